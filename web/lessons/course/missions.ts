import { checkDesign } from '../../../engine/check/check-design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Answer, Exhibit, Lesson, Step, StepTrace } from '../step.ts';
import {
  bellOf,
  board,
  choose,
  driven,
  grow,
  runOf,
  seconds,
  tell,
  tellPair,
  trace,
  volts,
  VOLTAGE,
} from './bench.ts';
import { placeOf } from './judge.ts';
import { realCapture } from './real-capture.ts';

/** Faults of the board, one of which each mission shows. */
const FAULTS = {
  late: withValueAt(board, '/cycle', { ...(board['cycle'] as object), stagger: '80 ns' }),
  weak: driven(340),
  missing: withValueAt(board, '/exceptions', [{ row: 1, column: 2, missing: true }]),
  backwards: withValueAt(board, '/exceptions', [{ row: 1, column: 2, reversed: true }]),
} as const satisfies Record<string, RawDesign>;
type Fault = keyof typeof FAULTS;

/** The wire as expected and as found, drawn upright as expected. */
function found(fault: Fault): readonly [StepTrace, StepTrace] {
  const [good, bad] = [runOf(board), runOf(FAULTS[fault])];
  const sign = Math.sign(bellOf(good).value);
  const upright = ({ senseVoltage }: typeof good): Float64Array => senseVoltage.map((value) => value * sign);
  return [trace(good, upright(good), 'half', 'expected'), trace(bad, upright(bad), 'one', 'found')];
}

const SPAN = [0, 600e-9] as const;

function mission(fault: Fault): Step {
  const order = Object.keys(FAULTS) as Fault[];
  const shown = (): Exhibit => ({ traces: found(fault), quantity: VOLTAGE, span: SPAN });
  return {
    id: `find-${fault}`,
    exhibit: shown,
    ask: choose(...order),
    design: FAULTS[fault],
    compute() {
      const [good, bad] = [runOf(board), runOf(FAULTS[fault])];
      const own = (name: string, run: typeof good): Answer =>
        tellPair(name, 'at', volts(bellOf(run).value), seconds(bellOf(run).time));
      return {
        ...shown(),
        truth: { kind: 'choose', right: order.indexOf(fault) },
        answers: [own('expected', good), own('found', bad)],
      };
    },
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
  ask: {
    kind: 'number',
    unit: 'mV',
    within: 0.1,
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
        { label: 'one', style: 'one', time, values: one },
        { label: 'zero', style: 'zero', time, values: zero },
      ],
      quantity: VOLTAGE,
      span: [0, 800e-9],
      place: placeOf(best),
      truth: { kind: 'number', value: best.inForce.threshold * 1e3 },
      answers: [
        tellPair('best', 'at', volts(best.inForce.threshold), seconds(best.inForce.time)),
        tell('left', volts(best.margin.left)),
        tell('before', volts(before.margin.left)),
      ],
    };
  },
};

export const missions: Lesson = {
  id: 'missions',
  steps: [mission('weak'), mission('late'), mission('backwards'), slice, realCapture],
};
