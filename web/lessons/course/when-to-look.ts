import { checkDesign } from '../../../engine/check/check-design.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { marginAt } from '../../../engine/strobe/window-at.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Curve, Lesson, Step, StepResult } from '../step.ts';
import {
  board,
  celsius,
  choose,
  compareBells,
  driven,
  grow,
  orderOfBells,
  readSpan,
  runOf,
  seconds,
  tell,
  tellPair,
  VOLTAGE,
  volts,
} from './bench.ts';

/** Least ONE and greatest ZERO of a design over its patterns and disturb states, its best instant, and what is left at every other, V. */
function judge(raw: RawDesign): { window: StrobeWindow; left: Curve } {
  const design = checkDesign(raw);
  const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
  if (!('envelope' in ensemble)) throw new Error('The strobe of the learning board could not be judged.');
  const { threshold } = design.detector;
  const window = windowOf(ensemble, { time: undefined, threshold });
  const { envelope, uncertainties } = ensemble;
  const values = envelope.time.map((time) => marginAt(envelope, { time, threshold }, uncertainties).left);
  return { window, left: { time: envelope.time, values } };
}

function placed(raw: RawDesign): StepResult {
  const { window, left } = judge(raw);
  const { time, one, zero } = window.envelope;
  const run = runOf(raw);
  return {
    traces: [
      { label: 'one', style: 'one', time, values: one },
      { label: 'zero', style: 'zero', time, values: zero },
    ],
    quantity: VOLTAGE,
    span: readSpan(run),
    place: {
      strobe: window.inForce.time,
      threshold: window.inForce.threshold,
      strobeZones: window.intervals.map(({ start, end }) => ({ from: start, to: end })),
    },
    truth: { kind: 'place', best: window.inForce.time, left },
    answers: [
      tell('best', seconds(window.inForce.time)),
      window.strobe
        ? tellPair('window', 'to', seconds(window.strobe.start), seconds(window.strobe.end))
        : tell('window'),
      tell('left', volts(window.margin.left)),
    ],
  };
}

const place: Step = {
  id: 'strobe',
  ask: { kind: 'place' },
  design: board,
  compute: () => placed(board),
};

const large = grow(32);

const placeLarge: Step = {
  id: 'strobe-32',
  ask: { kind: 'place' },
  design: large,
  compute: () => placed(large),
};

const TEMPERATURES = [5, 25, 45] as const;
const at = (degrees: number): RawDesign => withValueAt(board, '/temperature', `${degrees} degC`);

const warm: Step = {
  id: 'warm',
  ask: choose('earlier', 'same', 'later'),
  design: at(45),
  compute() {
    const runs = TEMPERATURES.map((degrees) => runOf(at(degrees)));
    return {
      ...compareBells(
        runs,
        TEMPERATURES.map((degrees) => celsius(degrees)),
      ),
      truth: { kind: 'choose', right: orderOfBells(runs[1]!, runs[2]!) },
    };
  },
};

const weak = driven(330);

const drift: Step = {
  id: 'drift',
  ask: {
    kind: 'number',
    unit: 'mV',
    within: 0.35,
  },
  design: weak,
  compute() {
    const nominal = judge(board);
    const dropped = judge(weak);
    const time = nominal.window.inForce.time;
    const left = valueAt(dropped.left.time, dropped.left.values, time);
    const { envelope } = dropped.window;
    return {
      traces: [
        { label: 'weak', style: 'one', time: envelope.time, values: envelope.one },
        {
          label: 'usual',
          style: 'half',
          time: nominal.window.envelope.time,
          values: nominal.window.envelope.one,
        },
      ],
      quantity: VOLTAGE,
      span: [0, 600e-9],
      place: {
        strobe: time,
        threshold: nominal.window.inForce.threshold,
        strobeZones: dropped.window.intervals.map(({ start, end }) => ({ from: start, to: end })),
      },
      truth: { kind: 'number', value: left * 1e3 },
      answers: [
        tell('strobe', seconds(time)),
        tell('usual', volts(nominal.window.margin.left)),
        tell('weak', volts(left)),
        tell('one', volts(valueAt(envelope.time, envelope.one, time))),
      ],
    };
  },
};

export const whenToLook: Lesson = {
  id: 'when-to-look',
  steps: [place, placeLarge, warm, drift],
};
