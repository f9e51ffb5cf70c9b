import { checkDesign } from '../../../engine/check/check-design.ts';
import { worstPattern } from '../../../engine/mat/stored-pattern.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import { lineCores, withBits, type BitsAsk } from '../moved.ts';
import type { Step } from '../step.ts';
import {
  AFTER_EDGE,
  choose,
  grow,
  halfSelectedOf,
  peakIn,
  runOf,
  tell,
  trace,
  VOLTAGE,
  volts,
  withBit,
} from './bench.ts';

const inHalves = (n: number): RawDesign => withValueAt(grow(n), '/winding', { kind: 'shared-two-halves' });

/** The mat of 16 × 16, wired in two halves. */
export const halves = inHalves(16);

type Held = 'zeros' | 'ones' | 'checkerboard' | 'signs';

/** The mat of two halves with a pattern stored; `signs`: ONE on one sign of the wire, ZERO on the other. */
function holding(pattern: Held): RawDesign {
  const { columns } = checkDesign(halves).mat;
  const bits = worstPattern(checkDesign(halves), 'one');
  const rows = Array.from({ length: bits.length / columns }, (_, r) =>
    bits.slice(r * columns, (r + 1) * columns).join(''),
  );
  return withValueAt(halves, '/stored', pattern === 'signs' ? { kind: 'custom', rows } : { kind: pattern });
}

const HELD = [
  ['zeros', 'zero'],
  ['ones', 'one'],
  ['checkerboard', 'direct'],
  ['signs', 'half'],
] as const;

export const pattern: Step = {
  id: 'pattern',
  ask: choose('zeros', 'ones', 'checkerboard', 'signs'),
  design: holding('signs'),
  compute() {
    const runs = HELD.map(([pattern]) => runOf(holding(pattern), withBit(0)));
    const most = runs.map((run) => peakIn(run, halfSelectedOf(run), AFTER_EDGE, 400e-9));
    return {
      // The checkerboard's line lies on that of all ONE.
      traces: [0, 1, 3].map((k) => trace(runs[k]!, halfSelectedOf(runs[k]!), HELD[k]![1], HELD[k]![0])),
      quantity: VOLTAGE,
      span: [0, 400e-9],
      truth: { kind: 'choose', right: most.indexOf(Math.max(...most)) },
      answers: HELD.map(([pattern], k) => tell(pattern, volts(most[k]!))),
    };
  },
};

/** Of a mat of 4 × 4 the six cores on the lines of the one that is read. */
const BITS: BitsAsk = { kind: 'bits', rows: 4, columns: 4, read: { row: 1, column: 2 } };
const NO_BITS = lineCores(BITS).map(() => 0);

const small = withBits(inHalves(4), BITS, NO_BITS);

/** V that the half-selected cores leave at most once the edge is over, while a ZERO is read. */
function leftOver(bits: readonly number[]): { run: Simulation; most: number } {
  const run = runOf(withBits(small, BITS, bits), withBit(0));
  return { run, most: peakIn(run, halfSelectedOf(run), AFTER_EDGE, 400e-9) };
}

/** Of the most there is, so much is the worst pattern itself and no other. */
const ALL_BUT = 0.98;

export const hunt: Step = {
  id: 'hunt',
  ask: BITS,
  design: small,
  weigh(moved) {
    if (moved.kind !== 'bits') throw new TypeError('The hunt is answered by bits.');
    return { value: leftOver(moved.bits).most };
  },
  compute() {
    const worst = worstPattern(checkDesign(small), 'one');
    const bits = lineCores(BITS).map(({ row, column }) => worst[row * BITS.columns + column]!);
    const [zeros, ones, most] = [NO_BITS, NO_BITS.map(() => 1), bits].map(leftOver) as [
      ReturnType<typeof leftOver>,
      ReturnType<typeof leftOver>,
      ReturnType<typeof leftOver>,
    ];
    return {
      traces: [
        trace(most.run, halfSelectedOf(most.run), 'half', 'worst'),
        trace(ones.run, halfSelectedOf(ones.run), 'one', 'ones'),
        trace(zeros.run, halfSelectedOf(zeros.run), 'zero', 'zeros'),
      ],
      quantity: VOLTAGE,
      span: [AFTER_EDGE, 400e-9],
      truth: { kind: 'bits', need: ALL_BUT * most.most, most: most.most, bits },
      answers: [
        tell('worst', volts(most.most)),
        tell('ones', volts(ones.most)),
        tell('zeros', volts(zeros.most)),
      ],
    };
  },
};
