import { checkDesign } from '../../../engine/check/check-design.ts';
import { worstPattern } from '../../../engine/mat/stored-pattern.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  AFTER_EDGE,
  choiceOf,
  grow,
  halfSelectedOf,
  peakIn,
  readSpan,
  runOf,
  trace,
  volts,
  VOLTAGE,
  withBit,
  bellOf,
  choose,
  count,
  ratio,
  tell,
  tellPair,
} from './bench.ts';

/** All others on the two lines of the core that is read. */
const halfSelectedIn = ({ design: { mat } }: Simulation): number => mat.rows + mat.columns - 2;

const drown: Step = {
  id: 'drown',
  ask: {
    kind: 'number',
    unit: '',
    within: 0.25,
  },
  design: grow(16),
  compute() {
    const [small, large] = [runOf(grow(4), withBit(0)), runOf(grow(16), withBit(0))];
    const [a, b] = [small, large].map((run) =>
      peakIn(run, halfSelectedOf(run), 0, run.design.cycle.readWidth * 0.9),
    ) as [number, number];
    return {
      traces: [
        trace(large, large.senseVoltage, 'zero', 'large'),
        trace(small, small.senseVoltage, 'half', 'small'),
      ],
      quantity: VOLTAGE,
      span: readSpan(large),
      truth: { kind: 'number', value: b / a },
      answers: [
        tellPair('cores', 'and', count(halfSelectedIn(small)), count(halfSelectedIn(large))),
        tell('small', volts(a)),
        tell('large', volts(b)),
        tell('factor', ratio(b / a)),
      ],
    };
  },
};

const halves = withValueAt(grow(16), '/winding', { kind: 'shared-two-halves' });

const one: Step = {
  id: 'one-stays',
  ask: choose('smaller', 'same', 'larger'),
  design: grow(16),
  compute() {
    const [small, large] = [runOf(grow(4)), runOf(grow(16))];
    const [a, b] = [small, large].map((run) => Math.abs(bellOf(run).value)) as [number, number];
    return {
      traces: [
        trace(large, large.contributions!.selectedCore, 'selected', 'large'),
        trace(small, small.contributions!.selectedCore, 'one', 'small'),
      ],
      quantity: VOLTAGE,
      span: readSpan(large),
      truth: { kind: 'choose', right: choiceOf(b / a, [0.8, 1.2]) },
      answers: [tell('small', volts(a)), tell('large', volts(b))],
    };
  },
};

const cancel: Step = {
  id: 'cancel',
  ask: choose('nothing', 'smaller', 'same'),
  design: halves,
  compute() {
    const [before, after] = [runOf(grow(16), withBit(0)), runOf(halves, withBit(0))];
    const [a, b] = [before, after].map((run) =>
      peakIn(run, halfSelectedOf(run), 0, run.design.cycle.readWidth * 0.9),
    ) as [number, number];
    return {
      traces: [
        trace(before, halfSelectedOf(before), 'half', 'run'),
        trace(after, halfSelectedOf(after), 'direct', 'halves'),
      ],
      quantity: VOLTAGE,
      span: readSpan(before),
      truth: { kind: 'choose', right: choiceOf(b / a, [0.01, 0.5]) },
      answers: [tell('run', volts(a)), tell('halves', volts(b)), tell('part', ratio(b / a))],
    };
  },
};

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

const hunt: Step = {
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

export const manyCores: Lesson = {
  id: 'many-cores',
  steps: [drown, one, cancel, hunt],
};
