import { parseQuantity } from '../../../engine/base/units.ts';
import { writeQuantity } from '../../../engine/base/format-quantity.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { withValueAt } from '../../model/pointer.ts';
import { levelOf, levelVolts } from './levels.ts';
import { Bench } from './measures.ts';
import {
  MEASURES,
  type ChooseAsk,
  type Curve,
  type DrawAsk,
  type Measure,
  type NumberAsk,
  type OwnStep,
  type PlaceAsk,
  type SetAsk,
} from './lesson.ts';

/** What the engine says of a question, in numbers only, so that it crosses from a worker. */
export interface Evaluated {
  readonly shown: Shown;
  readonly truth: OwnTruth;
  /** Why nobody could answer it rightly, and what can be reached. */
  readonly refusal?: Refusal;
}

export type LineName = Curve | 'leastOne' | 'greatestZero';

/** The picture of the answer. */
export interface Shown {
  readonly lines: readonly {
    readonly name: LineName;
    readonly time: Float64Array;
    readonly values: Float64Array;
  }[];
  /** s */
  readonly span: readonly [number, number];
  readonly strobe?: number;
  /** V */
  readonly threshold?: number;
}

export type OwnTruth =
  /** `value`: what the engine finds, SI; undefined: the maker of the lesson says so. */
  | { readonly kind: 'choose'; readonly right: number; readonly value?: number }
  | { readonly kind: 'number'; readonly value: number }
  | Scan
  | { readonly kind: 'draw'; readonly so: readonly number[]; readonly time: readonly number[] };

/** Every place that a slider can stand at, and what comes of it. */
export interface Scan {
  readonly kind: 'scan';
  /** SI, rising. */
  readonly at: Float64Array;
  readonly got: Float64Array;
  /** Index of the place that comes to most, or to least where `sense` is 'atMost'. */
  readonly best: number;
  readonly sense: 'atLeast' | 'atMost';
  readonly target: number;
}

export type Refusal =
  /** No choice's limits hold what is so, or more than one's. */
  | { readonly code: 'choices'; readonly measure: Measure; readonly value: number; readonly holding: number }
  | { readonly code: 'nothing'; readonly measure: Measure }
  /** Three digits cannot come so near. */
  | { readonly code: 'tolerance'; readonly least: number }
  | {
      readonly code: 'target';
      readonly measure: Measure;
      readonly sense: Scan['sense'];
      readonly target: number;
      readonly reached: number;
      readonly at: number;
    }
  /** The nearest drawing that the plot allows is off by so much; the curve reaches so high and so low. */
  | { readonly code: 'drawing'; readonly off: number; readonly high: number; readonly low: number };

/** The step with a value of its varied input already in place. Throws DesignError for a board that does not hold. */
export function evaluate(step: OwnStep): Evaluated {
  const bench = new Bench(step.board);
  switch (step.ask.kind) {
    case 'choose':
      return choose(bench, step.ask);
    case 'number':
      return number(bench, step.ask);
    case 'place':
      return place(bench, step.ask);
    case 'set':
      return set(bench, step.ask, step);
    case 'draw':
      return draw(bench, step.ask);
  }
}

function choose(bench: Bench, ask: ChooseAsk): Evaluated {
  const { measure } = ask;
  const shown = shownFor(bench, measure);
  if (measure === undefined) return { shown, truth: { kind: 'choose', right: ask.right ?? 0 } };
  const value = bench.measure(measure);
  if (value === undefined)
    return { shown, truth: { kind: 'choose', right: 0 }, refusal: { code: 'nothing', measure } };
  const unit = MEASURES[measure];
  const limit = (text: string | undefined, open: number): number =>
    text === undefined || text === '' ? open : parseQuantity(text, unit);
  const holding = ask.choices.flatMap(({ from, to }, k) =>
    value >= limit(from, -Infinity) && value < limit(to, Infinity) ? [k] : [],
  );
  return {
    shown,
    truth: { kind: 'choose', right: holding[0] ?? 0, value },
    ...(holding.length === 1
      ? {}
      : { refusal: { code: 'choices', measure, value, holding: holding.length } as const }),
  };
}

/** Of a number that is rounded to three digits, in per cent of it: half a unit of the last of 100. */
const ROUNDING = 0.5;

function number(bench: Bench, { measure, within }: NumberAsk): Evaluated {
  const value = bench.measure(measure);
  const shown = shownFor(bench, measure);
  const truth = { kind: 'number', value: value ?? 0 } as const;
  if (value === undefined) return { shown, truth, refusal: { code: 'nothing', measure } };
  return within < ROUNDING
    ? { shown, truth, refusal: { code: 'tolerance', least: ROUNDING } }
    : { shown, truth };
}

/** s between places of the strobe; parts of the design's own threshold between those of the threshold. */
const STROBE_STEP = 1e-9;
const THRESHOLD_STEP = 1 / 60;
const THRESHOLD_TOP = 3;

function place(bench: Bench, ask: PlaceAsk): Evaluated {
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

function set(bench: Bench, ask: SetAsk, step: OwnStep): Evaluated {
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

function draw(bench: Bench, ask: DrawAsk): Evaluated {
  const { time, values } = bench.curve(ask.curve);
  const at = drawTimes(ask);
  const so = at.map((t) => valueAt(time, values, t));
  const nearest = so.map((value) => levelVolts(topOf(ask), levelOf(topOf(ask), value)));
  const off = meanDifference(nearest, so);
  const truth = { kind: 'draw', so, time: at } as const;
  const shown: Shown = { lines: [{ name: ask.curve, time, values }], span: [at[0]!, at.at(-1)!] };
  if (off <= parseQuantity(ask.within, 'V')) return { shown, truth };
  return { shown, truth, refusal: { code: 'drawing', off, high: Math.max(...so), low: Math.min(...so) } };
}

export const drawTimes = ({ at }: Pick<DrawAsk, 'at'>): number[] =>
  at.map((text) => parseQuantity(text, 's'));

/** V at the top of the empty plot. */
export const topOf = ({ most }: Pick<DrawAsk, 'most'>): number => parseQuantity(most, 'V');

export const meanDifference = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, k) => sum + Math.abs(value - b[k]!), 0) / a.length;

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

/** The read, and the pause after it in which its tail dies away. */
function spanOf({ design: { cycle } }: Bench): [number, number] {
  return [0, Math.min(cycle.readWidth * 1.3, cycle.period)];
}

/** Measures at the latch are shown on the worst cases, those of one core's bell on a ONE and a ZERO of the wire. */
function shownFor(bench: Bench, measure: Measure | undefined): Shown {
  const span = spanOf(bench);
  if (measure === undefined || measure === 'bell' || measure === 'bellTime' || measure === 'zeroPeak')
    return { span, lines: (['one', 'zero'] as const).map((name) => ({ name, ...bench.curve(name) })) };
  const { envelope, inForce } = bench.window();
  const { time, one, zero } = envelope;
  return {
    span,
    strobe: inForce.time,
    threshold: inForce.threshold,
    lines: [
      { name: 'leastOne', time, values: one },
      { name: 'greatestZero', time, values: zero },
    ],
  };
}
