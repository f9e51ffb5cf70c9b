import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import { isMoved, type Moved, type Weighed } from './moved.ts';
import { scoreDrawing, type DrawingFault } from './score-drawing.ts';
import type { Ask, Truth } from './step.ts';

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
    return scoreDrawing(ask, truth, given.values);
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
