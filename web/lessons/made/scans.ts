import { writeQuantity } from '../../../engine/base/format-quantity.ts';
import { parseQuantity } from '../../../engine/base/units.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { withValueAt } from '../../model/pointer.ts';
import type { Evaluated, Refusal, Scan } from './evaluated.ts';
import { MEASURES, type Measure, type OwnStep, type PlaceAsk, type SetAsk } from './lesson.ts';
import { Bench } from './measures.ts';
import { shownFor, spanOf } from './shown.ts';

/** s between places of the strobe; parts of the design's own threshold between those of the threshold. */
const STROBE_STEP = 1e-9;
const THRESHOLD_STEP = 1 / 60;
const THRESHOLD_TOP = 3;

/** The strobe or the threshold put where most is left. */
export function evaluatePlace(bench: Bench, ask: PlaceAsk): Evaluated {
  const target = parseQuantity(ask.least, 'V');
  const [at, got] = ask.moved === 'strobe' ? strobePlaces(bench) : thresholdPlaces(bench);
  const truth = scan(at, got, 'atLeast', target);
  const best = truth.at[truth.best]!;
  // The picture shows the place that comes to most, not the board's own.
  const shown = {
    ...shownFor(bench, 'left'),
    ...(ask.moved === 'strobe' ? { strobe: best } : { threshold: best }),
  };
  return { shown, truth, ...refused(truth, 'left') };
}

/** What is left at each strobe, at the threshold of the design: the envelope is as the latch sees it. */
function strobePlaces(bench: Bench): [Float64Array, Float64Array] {
  const window = bench.window({ time: undefined });
  const { envelope, margin, inForce } = window;
  const unsure = Math.min(margin.one, margin.zero) - margin.left;
  const [from, to] = spanOf(bench);
  const at = Float64Array.from(
    { length: Math.floor((to - from) / STROBE_STEP + 1e-6) + 1 },
    (_, k) => from + k * STROBE_STEP,
  );
  return [
    at,
    at.map((time) => {
      const one = valueAt(envelope.time, envelope.one, time) - inForce.threshold;
      const zero = inForce.threshold - valueAt(envelope.time, envelope.zero, time);
      return Math.min(one, zero) - unsure;
    }),
  ];
}

/** What is left at each threshold; the strobe stands where the design puts it, or follows the best instant of each. */
function thresholdPlaces(bench: Bench): [Float64Array, Float64Array] {
  const { threshold } = bench.design.detector;
  const at = Float64Array.from(
    { length: THRESHOLD_TOP / THRESHOLD_STEP },
    (_, k) => (k + 1) * THRESHOLD_STEP * threshold,
  );
  return [
    at,
    at.map((level) => bench.window({ time: bench.design.strobe.time, threshold: level }).margin.left),
  ];
}

/** An input set so that a number comes to its target. */
export function evaluateSet(bench: Bench, ask: SetAsk, step: OwnStep): Evaluated {
  const target = parseQuantity(ask.target, MEASURES[ask.measure]);
  const at = setPlaces(ask);
  const got = at.map((value) => new Bench(boardWith(step, ask, value)).measure(ask.measure) ?? NaN);
  const truth = scan(at, got, ask.sense, target);
  return {
    shown: shownFor(bench, ask.measure),
    truth,
    ...(got.every(Number.isNaN)
      ? { refusal: { code: 'nothing', measure: ask.measure } as const }
      : refused(truth, ask.measure)),
  };
}

/** Values of an input that the slider can be set to, SI. */
export function setPlaces({ from, to, unit, places }: SetAsk): Float64Array {
  const [low, high] = [from, to].map((text) => parseQuantity(text, unit)) as [number, number];
  return Float64Array.from({ length: places }, (_, k) => low + ((high - low) * k) / (places - 1));
}

export const boardWith = (step: OwnStep, { pointers, unit }: SetAsk, value: number): OwnStep['board'] =>
  pointers.reduce((board, pointer) => withValueAt(board, pointer, writeQuantity(value, unit)), step.board);

function scan(at: Float64Array, got: Float64Array, sense: Scan['sense'], target: number): Scan {
  const sign = sense === 'atLeast' ? 1 : -1;
  let best = -1;
  got.forEach((value, k) => {
    if (!Number.isNaN(value) && (best < 0 || sign * value > sign * got[best]!)) best = k;
  });
  return { kind: 'scan', at, got, best: Math.max(best, 0), sense, target };
}

export const reaches = ({ got, sense, target }: Scan, index: number): boolean =>
  sense === 'atLeast' ? got[index]! >= target : got[index]! <= target;

const refused = (truth: Scan, measure: Measure): { refusal?: Refusal } =>
  reaches(truth, truth.best)
    ? {}
    : {
        refusal: {
          code: 'target',
          measure,
          sense: truth.sense,
          target: truth.target,
          reached: truth.got[truth.best]!,
          at: truth.at[truth.best]!,
        },
      };
