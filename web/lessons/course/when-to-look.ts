import { checkDesign } from '../../../engine/check/check-design.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Lesson, Step, StepResult } from '../step.ts';
import {
  board,
  compareBells,
  driven,
  grow,
  orderOfBells,
  readSpan,
  runOf,
  seconds,
  VOLTAGE,
  volts,
} from './bench.ts';

/** Least ONE and greatest ZERO of a design over its patterns and disturb states, its best instant, and what any other leaves. */
function judge(raw: RawDesign): { window: StrobeWindow; leftAt: (time: number) => number } {
  const design = checkDesign(raw);
  const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
  if (!('envelope' in ensemble)) throw new Error('The strobe of the learning board could not be judged.');
  const { threshold } = design.detector;
  const window = windowOf(ensemble, { time: undefined, threshold });
  const leftAt = (time: number): number => windowOf(ensemble, { time, threshold }).margin.left;
  return { window, leftAt };
}

function placed(raw: RawDesign): StepResult {
  const { window, leftAt } = judge(raw);
  const { time, one, zero } = window.envelope;
  const run = runOf(raw);
  return {
    traces: [
      { label: 'least ONE', style: 'one', time, values: one },
      { label: 'greatest ZERO', style: 'zero', time, values: zero },
    ],
    quantity: VOLTAGE,
    span: readSpan(run),
    place: {
      strobe: window.inForce.time,
      threshold: window.inForce.threshold,
      strobeZones: window.intervals.map(({ start, end }) => ({ from: start, to: end })),
    },
    truth: { kind: 'place', best: window.inForce.time, leftAt },
    answers: [
      { name: 'Best instant', value: seconds(window.inForce.time) },
      {
        name: 'Window',
        value: window.strobe ? `${seconds(window.strobe.start)} to ${seconds(window.strobe.end)}` : 'none',
      },
      { name: 'Left there', value: volts(window.margin.left) },
    ],
  };
}

const UPRIGHT =
  'Both lines are drawn upright, as the detector hears them, whichever way a ONE points at the wire.';

const place: Step = {
  id: 'strobe',
  title: 'Place the strobe',
  text: `A latch looks once, at one instant, whether the voltage is over the threshold. Of all patterns the least ONE and the greatest ZERO are drawn. ${UPRIGHT}`,
  question: 'Where should the latch look? Drag the line, or use the arrow keys.',
  ask: {
    kind: 'place',
    early:
      'The spike has not gone yet, or the ONE has not come. Move it to where the two lines stand furthest apart from the threshold.',
    late: 'The bell is going, and the ONE with it. Move it back to where the two lines stand furthest apart from the threshold.',
  },
  design: board,
  compute: () => placed(board),
  meaning:
    'The window is where the least ONE is over the threshold and the greatest ZERO under it, with room for all that is not known exactly. The best instant leaves most on the side that has less.',
};

const large = grow(32);

const placeLarge: Step = {
  id: 'strobe-32',
  title: 'The same on 32 × 32',
  text: `The same cores and currents, 1,024 of them on one run. ${UPRIGHT}`,
  question: 'Where should the latch look now?',
  ask: {
    kind: 'place',
    early: 'Here the ZERO still stands high: look for where it has fallen and the ONE has not.',
    late: 'Too far down the bell. A little earlier there is more on the side of the ONE.',
  },
  design: large,
  compute: () => placed(large),
  meaning:
    'The half-selected cores eat from below, so the best instant lies later and less is left. The ONE itself is nearly what it was.',
};

const TEMPERATURES = [5, 25, 45] as const;
const at = (celsius: number): RawDesign => withValueAt(board, '/temperature', `${celsius} degC`);

const warm: Step = {
  id: 'warm',
  title: 'A warm day',
  text: 'The currents stay what they are; the board goes from 25 to 45 °C.',
  question: 'The peak of the bell comes…',
  ask: {
    kind: 'choose',
    choices: [
      {
        text: 'earlier, and higher',
        whyNot: 'Compare the three runs below.',
      },
      {
        text: 'when it came before',
        whyNot: 'Its threshold falls by half a per cent a degree: of the drive beyond it that is a lot more.',
      },
      {
        text: 'later, and lower',
        whyNot: 'That is the cold board. Warm ferrite turns more easily, so the same current is more for it.',
      },
    ],
  },
  design: at(45),
  compute() {
    const runs = TEMPERATURES.map((celsius) => runOf(at(celsius)));
    return {
      ...compareBells(
        runs,
        TEMPERATURES.map((celsius) => `${celsius} °C`),
      ),
      truth: { kind: 'choose', right: orderOfBells(runs[1]!, runs[2]!) },
    };
  },
  meaning:
    'A strobe that is right in the cold may stand too late when it is warm, and half-selected cores begin to creep. Drivers whose current falls with temperature as the threshold does keep the bell in its place.',
};

const weak = driven(330);

const drift: Step = {
  id: 'drift',
  title: 'A strobe that stays while the drive drops',
  text: 'The strobe stands at the best instant of the board as designed, with 370 mA a line. Now the drive drops to 330 mA.',
  question:
    'What is then left at that instant, in millivolts? (As designed some 14 mV are left; below zero it reads wrong.)',
  ask: {
    kind: 'number',
    unit: 'mV',
    within: 0.35,
    tooLow:
      'Not quite so bad: the bell comes later, but it is wide, and the strobe still stands on its flank.',
    tooHigh:
      'The bell comes 76 ns later and a quarter lower: where its peak was there is now its rising flank.',
  },
  design: weak,
  compute() {
    const nominal = judge(board);
    const dropped = judge(weak);
    const time = nominal.window.inForce.time;
    const left = dropped.leftAt(time);
    const { envelope } = dropped.window;
    return {
      traces: [
        { label: 'least ONE, 330 mA', style: 'one', time: envelope.time, values: envelope.one },
        {
          label: 'least ONE, 370 mA',
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
        { name: 'Strobe', value: seconds(time) },
        { name: 'Left with 370 mA', value: volts(nominal.window.margin.left) },
        { name: 'Left with 330 mA', value: volts(left) },
        { name: 'Least ONE there', value: volts(valueAt(envelope.time, envelope.one, time)) },
      ],
    };
  },
  meaning:
    'Tolerances are not a detail: margin as designed says little until drive, supply, temperature and threshold have been taken to their ends. Parts as they come, each a little different, take their share too.',
};

export const whenToLook: Lesson = {
  id: 'when-to-look',
  title: 'When to look',
  steps: [place, placeLarge, warm, drift],
};
