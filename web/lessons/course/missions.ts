import { checkDesign } from '../../../engine/check/check-design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Exhibit, Lesson, Step, StepTrace } from '../step.ts';
import { bellOf, board, driven, grow, runOf, seconds, trace, volts, VOLTAGE } from './bench.ts';

/** Faults of the board, one of which each mission shows. */
const FAULTS = {
  late: withValueAt(board, '/cycle', { ...(board['cycle'] as object), stagger: '80 ns' }),
  weak: driven(340),
  missing: withValueAt(board, '/exceptions', [{ row: 1, column: 2, missing: true }]),
  backwards: withValueAt(board, '/exceptions', [{ row: 1, column: 2, reversed: true }]),
} as const satisfies Record<string, RawDesign>;
type Fault = keyof typeof FAULTS;

const NAMES: Readonly<Record<Fault, string>> = {
  late: 'One line comes 80 ns late',
  weak: 'Both lines carry a tenth too little',
  missing: 'The addressed core is not there',
  backwards: 'The addressed core is threaded backwards',
};

/** How each would look, and what to compare. */
const LOOKS: Readonly<Record<Fault, string>> = {
  late: 'That would part the spike in two, one for each line, and shift the bell as it is. Set a stagger in Plan and look.',
  weak: 'That would make the bell later and lower, and the spike stay one. Lower both lines in Plan and look.',
  missing: 'Then no bell would be left at all, only the spike. Take the core out in Plan and look.',
  backwards:
    'Then the bell would point the other way, at its usual time. Turn the core round in Plan and look.',
};

/** The wire as expected and as found, drawn upright as expected. */
function found(fault: Fault): readonly [StepTrace, StepTrace] {
  const [good, bad] = [runOf(board), runOf(FAULTS[fault])];
  const sign = Math.sign(bellOf(good).value);
  const upright = ({ senseVoltage }: typeof good): Float64Array => senseVoltage.map((value) => value * sign);
  return [trace(good, upright(good), 'half', 'expected'), trace(bad, upright(bad), 'one', 'found')];
}

const SPAN = [0, 600e-9] as const;

function mission(fault: Fault, title: string, meaning: string): Step {
  const order = Object.keys(FAULTS) as Fault[];
  const shown = (): Exhibit => ({ traces: found(fault), quantity: VOLTAGE, span: SPAN });
  return {
    id: `find-${fault}`,
    title,
    text: 'A read of a ONE was captured on the wire of the learning board. It is not what the design expects, and one thing alone is wrong.',
    question: 'What is wrong?',
    exhibit: shown,
    ask: { kind: 'choose', choices: order.map((each) => ({ text: NAMES[each], whyNot: LOOKS[each] })) },
    design: FAULTS[fault],
    compute() {
      const [good, bad] = [runOf(board), runOf(FAULTS[fault])];
      const own = (run: typeof good): string => `${volts(bellOf(run).value)} at ${seconds(bellOf(run).time)}`;
      return {
        ...shown(),
        truth: { kind: 'choose', right: order.indexOf(fault) },
        answers: [
          { name: 'Selected core’s bell, expected', value: own(good) },
          { name: 'Found', value: own(bad) },
        ],
      };
    },
    meaning,
  };
}

const large = grow(32);

/** V: thresholds are tried in these steps, the first between these ends. */
const STEPS = [1e-3, 0.1e-3] as const;
const ENDS = [5e-3, 60e-3] as const;

/** The window of the threshold that leaves most at its own best strobe. */
function mostLeft(at: (threshold: number) => StrobeWindow): StrobeWindow {
  let [low, high]: readonly [number, number] = ENDS;
  let best = at(low);
  for (const step of STEPS) {
    for (let threshold = low; threshold <= high; threshold += step) {
      const tried = at(threshold);
      if (tried.margin.left > best.margin.left) best = tried;
    }
    [low, high] = [best.inForce.threshold - step, best.inForce.threshold + step];
  }
  return best;
}

const slice: Step = {
  id: 'slice',
  title: 'Set the threshold',
  text: 'A mat of 32 × 32 on one run; whatever the threshold, the strobe goes to its best place. With the threshold at 18 mV, 6.3 mV are left on the side of the ZERO and more on the side of the ONE.',
  question: 'At which threshold is most left on the side that has less?',
  ask: {
    kind: 'number',
    unit: 'mV',
    within: 0.1,
    tooLow: 'Lower helps the ONE, and it is the ZERO that has less. Move it the other way.',
    tooHigh: 'Too far: now the ONE has less. Somewhere between both sides are alike.',
  },
  design: large,
  compute() {
    const design = checkDesign(large);
    const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
    if (!('envelope' in ensemble)) throw new Error('The mat of 32 × 32 could not be judged.');
    const at = (threshold: number): StrobeWindow => windowOf(ensemble, { time: undefined, threshold });
    const before = at(design.detector.threshold);
    const best = mostLeft(at);
    const { time, one, zero } = best.envelope;
    return {
      traces: [
        { label: 'least ONE', style: 'one', time, values: one },
        { label: 'greatest ZERO', style: 'zero', time, values: zero },
      ],
      quantity: VOLTAGE,
      span: [0, 800e-9],
      place: {
        strobe: best.inForce.time,
        threshold: best.inForce.threshold,
        strobeZones: best.intervals.map(({ start, end }) => ({ from: start, to: end })),
      },
      truth: { kind: 'number', value: best.inForce.threshold * 1e3 },
      answers: [
        { name: 'Best', value: `${volts(best.inForce.threshold)} at ${seconds(best.inForce.time)}` },
        { name: 'Left there', value: volts(best.margin.left) },
        { name: 'Left at 18 mV', value: volts(before.margin.left) },
      ],
    };
  },
  meaning:
    'Strobe and threshold belong together: each has a best place only for the other. Open it in Plan and find a margin that is greater still; the winding, the drive and the wire’s ends are yours to change.',
};

export const missions: Lesson = {
  id: 'missions',
  title: 'Missions',
  steps: [
    mission(
      'weak',
      'A capture that is not as expected',
      'A bell that is lower and later at once has been driven too weakly, or is cold: both act on the drive beyond the threshold.',
    ),
    mission(
      'late',
      'Another one',
      'Two small spikes instead of one large one, and the bell moved as a whole: each line makes its own spike, and the core turns only once both are there.',
    ),
    mission(
      'backwards',
      'And a third',
      'Everything has its usual size and time, but the bell points the other way: the wire passes this one core from the wrong side. A detector for either sign would not even notice.',
    ),
    slice,
  ],
};
