import type { Simulation } from '../../../engine/solver/result.ts';
import type { Lesson, Step } from '../step.ts';
import {
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
import { halves, hunt, pattern } from './worst-pattern.ts';

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

const one: Step = {
  id: 'the-one',
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

export const manyCores: Lesson = {
  id: 'many-cores',
  steps: [drown, one, cancel, pattern, hunt],
};
