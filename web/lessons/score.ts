import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import { isMoved, type Moved, type Weighed } from './moved.ts';
import type { Ask, Curve, Truth } from './step.ts';

/** What the reader answered. */
export type Given =
  | { readonly kind: 'choose'; readonly chosen: number }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'place'; readonly time: number }
  | { readonly kind: 'draw'; readonly values: readonly number[] }
  | Moved;

/** How near an answer came, in codes and numbers; `fault` is missing where it is right. */
export type Score = { readonly right: boolean } & (
  | { readonly kind: 'choose'; readonly chosen: number; readonly so: number }
  | {
      readonly kind: 'number';
      readonly value: number;
      readonly so: number;
      readonly fault?: 'low' | 'high';
    }
  | {
      readonly kind: 'place';
      /** s */
      readonly time: number;
      readonly best: number;
      /** V left at either. */
      readonly left: number;
      readonly most: number;
      readonly fault?: 'early' | 'late';
    }
  | {
      readonly kind: 'draw';
      /** V on average. */
      readonly off: number;
      readonly fault?: DrawingFault;
    }
  | {
      readonly kind: 'moved';
      /** V: what came of it, what is enough, and the most that there is where that is known. */
      readonly got: number;
      readonly need: number;
      readonly most?: number;
      readonly fault?: MovedFault;
    }
);

/** Less or more than the best place, or of a whole board which side has less, or that it was made smaller. */
export type MovedFault = 'low' | 'high' | NonNullable<Weighed['fault']>;

/** What most of all is wrong with a drawn read; `by`: s. */
export type DrawingFault =
  | { readonly code: 'upsideDown' | 'noSpike' | 'noBell' | 'heights' }
  | { readonly code: 'bellEarly' | 'bellLate'; readonly by: number };

type Of<Union, Kind> = Extract<Union, { readonly kind: Kind }>;

/** Holds an answer against what the engine says. All three are of one kind; `weighed`: what came of a board that was set. */
export function score(ask: Ask, truth: Truth, given: Given, weighed?: Weighed): Score {
  if (weighed && isMoved(given) && isMoved(truth) && truth.kind === given.kind)
    return scoreMoved(truth, given, weighed);
  if (truth.kind === 'choose' && given.kind === 'choose')
    return { kind: 'choose', right: given.chosen === truth.right, chosen: given.chosen, so: truth.right };
  if (ask.kind === 'number' && truth.kind === 'number' && given.kind === 'number')
    return scoreNumber(ask, truth, given);
  if (truth.kind === 'place' && given.kind === 'place') return scorePlace(truth, given);
  if (ask.kind === 'draw' && truth.kind === 'draw' && given.kind === 'draw')
    return scoreDrawing(ask, truth, given);
  throw new TypeError(`A step asks to ${ask.kind}, but was answered by ${given.kind}.`);
}

function scoreNumber(
  { within }: Of<Ask, 'number'>,
  { value: so }: Of<Truth, 'number'>,
  { value }: Of<Given, 'number'>,
): Score {
  const right = Math.abs(value - so) <= within * Math.abs(so);
  return { kind: 'number', right, value, so, ...(right ? {} : { fault: value < so ? 'low' : 'high' }) };
}

function scoreMoved(
  truth: Of<Truth, Moved['kind']>,
  given: Moved,
  { value: got, need = truth.need, fault: own }: Weighed,
): Score {
  const right = got >= need && own !== 'fewer';
  const most = truth.kind === 'board' ? {} : { most: truth.most };
  const over = truth.kind === 'set' && given.kind === 'set' && given.index > truth.index;
  const fault: MovedFault = own ?? (over ? 'high' : 'low');
  return { kind: 'moved', right, got, need, ...most, ...(right ? {} : { fault }) };
}

/** A place is right that leaves nine tenths of what the best one does. */
export const NEAR = 0.9;

function scorePlace({ best, left: curve }: Of<Truth, 'place'>, { time }: Of<Given, 'place'>): Score {
  const [left, most] = [time, best].map((at) => valueAt(curve.time, curve.values, at)) as [number, number];
  const right = left >= most - (1 - NEAR) * Math.abs(most);
  return {
    kind: 'place',
    right,
    time,
    best,
    left,
    most,
    ...(right ? {} : { fault: time < best ? 'early' : 'late' }),
  };
}

/** s: the edges of the drive are over. */
const EDGE_OVER = 100e-9;
/** A drawing is right that is off by less than this part of what is there, both on average. */
const ALIKE = 0.5;
/** Less than this part of what is there counts as left out. */
const THERE = 0.3;
/** s: a peak may be drawn so much too early or too late. */
const SOON = 70e-9;

function scoreDrawing(ask: Of<Ask, 'draw'>, truth: Of<Truth, 'draw'>, { values }: Of<Given, 'draw'>): Score {
  const so = ask.at.map((time) => valueAt(truth.curve.time, truth.curve.values, time));
  const off = meanOf(values.map((value, k) => Math.abs(value - so[k]!)));
  const shape = drawingFault(ask.at, values, so, truth.curve);
  const right = shape === undefined && off < ALIKE * meanOf(so.map(Math.abs));
  return { kind: 'draw', right, off, ...(right ? {} : { fault: shape ?? { code: 'heights' } }) };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Undefined: its shape is right. */
function drawingFault(
  at: readonly number[],
  values: readonly number[],
  so: readonly number[],
  curve: Curve,
): DrawingFault | undefined {
  const top = (from: number, to: number, of: readonly number[]): { time: number; value: number } =>
    at.reduce(
      (best, time, k) => (time >= from && time < to && of[k]! > best.value ? { time, value: of[k]! } : best),
      { time: from, value: -Infinity },
    );
  if (meanOf(values) < 0) return { code: 'upsideDown' };
  const [edge, edgeSo] = [values, so].map((of) => top(0, EDGE_OVER, of).value) as [number, number];
  const [bell, bellSo] = [values, so].map((of) => top(EDGE_OVER, Infinity, of)) as [
    ReturnType<typeof top>,
    ReturnType<typeof top>,
  ];
  if (edge < THERE * edgeSo) return { code: 'noSpike' };
  if (bell.value < THERE * bellSo.value) return { code: 'noBell' };
  const last = at.at(-1)!;
  const peak = curve.time.reduce(
    (best, time, i) =>
      time >= EDGE_OVER && time <= last && curve.values[i]! > curve.values[best]! ? i : best,
    curve.time.findIndex((time) => time >= EDGE_OVER),
  );
  const early = curve.time[peak]! - bell.time;
  if (Math.abs(early) < SOON) return undefined;
  return early > 0 ? { code: 'bellEarly', by: early } : { code: 'bellLate', by: -early };
}
