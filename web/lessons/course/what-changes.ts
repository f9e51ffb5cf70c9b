import { checkDesign } from '../../../engine/check/check-design.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step } from '../step.ts';
import {
  bellOf,
  board,
  celsius,
  choose,
  compareBells,
  driven,
  orderOfBells,
  percent,
  runOf,
  seconds,
  tell,
  tellPair,
  volts,
} from './bench.ts';
import { AT_LATCH, judge, placeOf } from './judge.ts';

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

/** A drive that follows the temperature as the core's thresholds do, per kelvin. */
const TRACKING = '-0.5 %/K';
const line = { temperatureCoefficient: TRACKING };
const tracked = (degrees: number): RawDesign => withValueAt(at(degrees), '/drive', { x: line, y: line });

/** Of the shift without tracking, what is left counts as none, or as hardly less. */
const [NONE, HARDLY_LESS] = [0.1, 0.75];

const tracks: Step = {
  id: 'tracks',
  ask: choose('same', 'less', 'none'),
  design: tracked(45),
  compute() {
    const [cold, , hot] = TEMPERATURES;
    const steady = [cold, hot].map((degrees) => bellOf(runOf(at(degrees))).time);
    const runs = TEMPERATURES.map((degrees) => runOf(tracked(degrees)));
    const shift = bellOf(runs[2]!).time - bellOf(runs[0]!).time;
    const before = steady[1]! - steady[0]!;
    const part = Math.abs(shift / before);
    const bells = compareBells(
      runs,
      TEMPERATURES.map((degrees) => celsius(degrees)),
    );
    return {
      ...bells,
      truth: { kind: 'choose', right: part < NONE ? 2 : part < HARDLY_LESS ? 1 : 0 },
      answers: [...bells.answers, tellPair('shift', 'and', seconds(before), seconds(shift))],
    };
  },
};

/** Thresholds of the softest, the usual and the hardest core, as parts off the usual: three standard deviations of 3 %. */
const OFF = [-0.09, 0, 0.09] as const;
const part = (off: number): RawDesign =>
  withValueAt(board, '/exceptions', [{ row: 1, column: 2, thresholdFactor: 1 + off }]);

const parts: Step = {
  id: 'parts',
  ask: choose('earlier', 'same', 'later'),
  design: part(OFF[2]),
  compute() {
    const runs = OFF.map((off) => runOf(part(off)));
    return {
      ...compareBells(
        runs,
        OFF.map((off) => percent(off)),
      ),
      truth: { kind: 'choose', right: orderOfBells(runs[1]!, runs[2]!) },
    };
  },
};

/** The strobe stands where it is best with 370 mA. */
const weak = withValueAt(driven(330), '/strobe/time', '241.4 ns');

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
    // Where the strobe stands on the stage, so that either tells the same.
    const time = checkDesign(weak).strobe.time as number;
    const left = dropped.leftAt(time);
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
      ...AT_LATCH,
      span: [0, 600e-9],
      place: { ...placeOf(dropped.window), strobe: time },
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

export const whatChanges: Lesson = {
  id: 'what-changes',
  steps: [warm, tracks, parts, drift],
};
