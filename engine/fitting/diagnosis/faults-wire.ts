import { formatQuantity } from '../../base/format-quantity.ts';
import type { Design } from '../../design/design.ts';
import { turnedRound } from '../../mat/winding.ts';
import { throughPole } from '../align/trace-tools.ts';
import { changeCore, eitherWay, exchangeEnds, lateness, termination } from './fault-changes.ts';
import type { Fault } from './fault.ts';

const terminationFaults = (['a', 'b'] as const).flatMap((end): Fault[] => {
  const wire = `termination at end ${end.toUpperCase()}`;
  return [
    {
      code: `open-termination-${end}`,
      title: `Open ${wire}`,
      severity: undefined,
      change: (d) => termination(d, end, Infinity),
      possible: (d) => d.terminations[end] !== Infinity,
    },
    {
      code: `short-termination-${end}`,
      title: `Short across the ${wire}`,
      severity: undefined,
      change: (d) => termination(d, end, 0),
      possible: (d) => d.terminations[end] !== 0,
    },
    {
      code: `wrong-termination-${end}`,
      title: `Wrong ${wire}`,
      severity: {
        tried: [0.3, 0.6, 1.6, 3],
        low: 0.1,
        high: 10,
        worst: 'both',
        describe: (v, { terminations }) =>
          `${formatQuantity(v * terminations[end], 'ohm', 2)} instead of ${formatQuantity(terminations[end], 'ohm', 2)}`,
      },
      change: (d, times) => termination(d, end, d.terminations[end] * times),
      possible: (d) => Number.isFinite(d.terminations[end]) && d.terminations[end] > 0,
    },
  ];
});

/** The cores of the selected row or column threaded the other way round. */
function turnLine(design: Design, line: 'row' | 'column'): Design {
  const { rows, columns } = design.mat;
  const { row, column } = design.selected;
  const count = line === 'row' ? columns : rows;
  let turned = design;
  for (let i = 0; i < count; i++) {
    const [r, c] = line === 'row' ? [row, i] : [i, column];
    const now = design.exceptions.find((e) => e.row === r && e.column === c)?.reversed ?? false;
    turned = changeCore(turned, r, c, { reversed: !now });
  }
  return turned;
}

/** What may be wrong with the sense wire, its ends and what listens to it. */
export const WIRE_FAULTS: readonly Fault[] = [
  ...terminationFaults,
  {
    code: 'bad-joint',
    title: 'A bad joint in the sense wire',
    severity: {
      tried: [10, 40, 120, 400],
      low: 3,
      high: 5000,
      worst: 'high',
      describe: (v) => `${formatQuantity(v, 'ohm', 2)} in series, its place not told`,
    },
    change: (d, ohm) => ({
      ...d,
      wire: {
        ...d.wire,
        resistancePerCore: d.wire.resistancePerCore + ohm / (d.mat.rows * d.mat.columns),
      },
    }),
  },
  ...(['row', 'column'] as const).map((line): Fault => ({
    code: `backward-${line}`,
    title: `The selected ${line} is threaded backwards by the sense wire`,
    severity: undefined,
    change: (d) => turnLine(d, line),
    possible: (d) => (line === 'row' ? d.mat.columns : d.mat.rows) > 1,
  })),
  {
    code: 'swapped-halves',
    title: 'The two leads of the amplifier, or the two halves of the wire, are exchanged',
    severity: undefined,
    // Half A in the place of half B and the other way round is the same wire read from its other end.
    change: exchangeEnds,
    polarity: -1,
  },
  ...(['a', 'b'] as const).map((half): Fault => ({
    code: `backward-half-${half}`,
    title: `The half of the wire at end ${half.toUpperCase()} is connected backwards: noise adds up and inhibit helps the write there`,
    severity: undefined,
    change: (d) => ({ ...d, winding: turnedRound(d.mat, d.winding, `half-${half}`) }),
    possible: (d) => d.winding.kind === 'shared-two-halves',
  })),
  {
    code: 'backward-wire',
    title: 'The shared wire is connected backwards, so that inhibit helps the write',
    severity: undefined,
    change: (d) => ({ ...d, winding: turnedRound(d.mat, d.winding, 'all') }),
    possible: (d) => d.winding.kind === 'shared-one-run' && d.drive.inhibit.amplitude > 0,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'gain',
    title: 'Gain or probe: everything is seen too large or too small',
    severity: eitherWay(
      [0.1, 0.5, 0.8, 1.25, 2, 10],
      0.005,
      200,
      (v) => `${Number(v.toPrecision(2))} times what is there`,
    ),
    change: (d) => d,
    seen: ({ time, value }, factor) => ({ time, value: value.map((v) => factor * v) }),
  },
  {
    code: 'bandwidth',
    title: 'The instrument or its probe is too slow',
    severity: {
      tried: [5e6, 12e6, 30e6],
      low: 1e6,
      // Faster ones are instruments as they come (leeway.ts).
      high: 50e6,
      worst: 'low',
      describe: (v) => `it passes ${formatQuantity(v, 'Hz', 2)}`,
    },
    change: (d) => d,
    seen: throughPole,
  },
  {
    code: 'late-strobe',
    title: 'The strobe comes late',
    severity: lateness([20e-9, 60e-9, 150e-9], 5e-9, 2e-6),
    change: (d) => d,
    movesStrobe: true,
    shows: ({ strobe }) => strobe,
  },
  {
    code: 'slow-recovery',
    title: 'The amplifier is still recovering from overload',
    severity: lateness([60e-9, 200e-9, 600e-9], 10e-9, 5e-6),
    change: (d, seconds) => ({
      ...d,
      amplifier: { ...d.amplifier, recovery: d.amplifier.recovery + seconds },
    }),
    possible: (d) => Number.isFinite(d.amplifier.outputLimit),
    shows: ({ amplifier }) => amplifier,
  },
];
