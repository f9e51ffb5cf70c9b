import { formatQuantity } from '../../base/format-quantity.ts';
import type { Design } from '../../design/design.ts';
import type { StoredPattern } from '../../design/mat.ts';
import { storedBits } from '../../mat/stored-pattern.ts';
import { resize, soften } from './core-changes.ts';
import { changeCore, eitherWay, percent, selectedCore, share } from './fault-changes.ts';
import type { Fault } from './fault.ts';

/** The first core of the selected row or column, other than the selected one, that holds a bit. */
function neighbour(
  design: Design,
  line: 'row' | 'column',
  bit: number,
): readonly [number, number] | undefined {
  const bits = storedBits(design);
  const { row, column } = design.selected;
  const count = line === 'row' ? design.mat.columns : design.mat.rows;
  for (let i = 0; i < count; i++) {
    const [r, c] = line === 'row' ? [row, i] : [i, column];
    if ((r !== row || c !== column) && bits[r * design.mat.columns + c] === bit) return [r, c];
  }
  return undefined;
}

const neighbourFaults = (['row', 'column'] as const).flatMap((line) =>
  ([1, 0] as const).map((bit): Fault => ({
    code: `other-core-${line}`,
    title: `Another core of the selected ${line}, one that holds a ${bit === 1 ? 'ONE' : 'ZERO'}, is missing or weak`,
    severity: {
      tried: [0.05, 0.5],
      low: 0.01,
      high: 0.8,
      worst: 'low',
      describe: (v) => (v < 0.2 ? 'it is missing' : `it has ${percent(v)} of its size`),
    },
    change: (d, size) => {
      const at = neighbour(d, line, bit);
      if (at === undefined) return d;
      return changeCore(d, at[0], at[1], { fluxFactor: size, elasticFactor: size });
    },
    possible: (d) => neighbour(d, line, bit) !== undefined,
  })),
);

const stored = (design: Design, pattern: Partial<StoredPattern>): Design => ({
  ...design,
  stored: { ...design.stored, ...pattern },
});
const PATTERNS = ['zeros', 'ones', 'checkerboard', 'row-stripes', 'column-stripes'] as const;

const patternFaults = PATTERNS.flatMap((kind) =>
  [false, true].flatMap((complement): Fault[] => {
    if (complement && (kind === 'zeros' || kind === 'ones')) return [];
    const words = `${kind}${complement ? ', complemented' : ''}`;
    return [
      {
        code: 'wrong-pattern',
        title: `Another pattern is stored: ${words}`,
        severity: undefined,
        change: (d) => stored(d, { kind, complement }),
        possible: (d) => !samePattern(d, stored(d, { kind, complement })),
      },
    ];
  }),
);

const samePattern = (a: Design, b: Design): boolean => {
  const [p, q] = [storedBits(a), storedBits(b)];
  return p.every((bit, i) => bit === q[i]);
};

/** What may be wrong with cores, and with what they hold. */
export const CORE_FAULTS: readonly Fault[] = [
  {
    code: 'weak-core',
    title: 'The selected core is weak',
    severity: {
      ...share([0.5, 0.75, 0.9], 0.2, 0.97),
      describe: (v) => `its flux is ${percent(v)} of the others'`,
    },
    change: (d, flux) => selectedCore(d, { fluxFactor: flux }),
  },
  {
    code: 'missing-core',
    title: 'The selected core is missing or broken',
    severity: undefined,
    change: (d) => selectedCore(d, { missing: true }),
  },
  {
    code: 'reversed-core',
    title: 'The selected core is threaded backwards',
    severity: undefined,
    change: (d) => selectedCore(d, { reversed: true }),
  },
  ...(['one', 'zero'] as const).map((toward): Fault => ({
    code: `magnet-toward-${toward}`,
    title: `A magnet holds the selected core toward ${toward === 'one' ? 'a ONE' : 'a ZERO'}`,
    severity: {
      tried: [0.05, 0.1, 0.15, 0.2, 0.27, 0.35, 0.45, 0.6, 1],
      low: 0.01,
      high: 3,
      worst: 'high',
      describe: (v) => `${formatQuantity(v, 'A', 2)} of bias`,
    },
    change: (d, bias) => selectedCore(d, { bias: toward === 'one' ? bias : -bias }),
  })),
  ...neighbourFaults,
  {
    code: 'soft-cores',
    title: 'All cores switch at other currents: warm, cold or of another make',
    severity: eitherWay([0.85, 0.94, 1.06, 1.15], 0.6, 1.4, (v) =>
      v < 1 ? `${percent(1 - v)} softer` : `${percent(v - 1)} harder`,
    ),
    change: soften,
  },
  {
    code: 'core-size',
    title: 'All cores are of another size',
    severity: eitherWay([0.8, 0.93, 1.07, 1.2], 0.4, 2.5, (v) => `${percent(v)} of what the design says`),
    change: resize,
  },
  {
    code: 'wrong-bit',
    title: 'The selected core holds the other bit',
    severity: undefined,
    change: (d) => ({ ...d, selected: { ...d.selected, bit: d.selected.bit === 1 ? 0 : 1 } }),
  },
  ...patternFaults,
];
