import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import type { Ask, StepTrace, Truth } from './step.ts';

/** What the reader answered. */
export type Given =
  | { readonly kind: 'choose'; readonly chosen: number }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'place'; readonly time: number }
  | { readonly kind: 'draw'; readonly values: readonly number[] };

export interface Score {
  readonly right: boolean;
  /** How near it came, or what is so. */
  readonly said: string;
  /** Why not, and what to try; empty where it is right. */
  readonly whyNot: string;
}

type Of<Union, Kind> = Extract<Union, { readonly kind: Kind }>;

const q = formatQuantity;

/** Holds an answer against what the engine says. All three are of one kind. */
export function score(ask: Ask, truth: Truth, given: Given): Score {
  if (ask.kind === 'choose' && truth.kind === 'choose' && given.kind === 'choose')
    return scoreChoice(ask, truth, given);
  if (ask.kind === 'number' && truth.kind === 'number' && given.kind === 'number')
    return scoreNumber(ask, truth, given);
  if (ask.kind === 'place' && truth.kind === 'place' && given.kind === 'place')
    return scorePlace(ask, truth, given);
  if (ask.kind === 'draw' && truth.kind === 'draw' && given.kind === 'draw')
    return scoreDrawing(ask, truth, given);
  throw new TypeError(`A step asks to ${ask.kind}, but was answered by ${given.kind}.`);
}

/** What is so, in words: for a hand-out, and beside a wrong answer. */
export function truthWords(ask: Ask, truth: Truth): string {
  if (ask.kind === 'choose' && truth.kind === 'choose') return ask.choices[truth.right]!.text;
  if (ask.kind === 'number' && truth.kind === 'number') return told(truth.value, ask.unit);
  if (truth.kind === 'place')
    return `${q(truth.best, 's', 3)}, where ${q(truth.leftAt(truth.best), 'V', 3)} are left`;
  return 'As drawn below';
}

const told = (value: number, unit: string): string =>
  `${Number(value.toPrecision(2))}${unit === '' ? '' : ` ${unit}`}`.replace('-', '−');

function scoreChoice(
  ask: Of<Ask, 'choose'>,
  truth: Of<Truth, 'choose'>,
  { chosen }: Of<Given, 'choose'>,
): Score {
  const right = chosen === truth.right;
  return {
    right,
    said: ask.choices[truth.right]!.text,
    whyNot: right ? '' : ask.choices[chosen]!.whyNot,
  };
}

function scoreNumber(
  ask: Of<Ask, 'number'>,
  truth: Of<Truth, 'number'>,
  { value }: Of<Given, 'number'>,
): Score {
  const right = Math.abs(value - truth.value) <= ask.within * Math.abs(truth.value);
  const so = `${told(value, ask.unit)} said, ${told(truth.value, ask.unit)} is so`;
  return { right, said: so, whyNot: right ? '' : value < truth.value ? ask.tooLow : ask.tooHigh };
}

/** A place is right that leaves nine tenths of what the best one does. */
const NEAR = 0.9;

function scorePlace(ask: Of<Ask, 'place'>, truth: Of<Truth, 'place'>, { time }: Of<Given, 'place'>): Score {
  const [left, most] = [truth.leftAt(time), truth.leftAt(truth.best)];
  const right = left >= most - (1 - NEAR) * Math.abs(most);
  const there =
    left >= 0 ? `${q(left, 'V', 3)} are left` : `the worst case reads wrong by ${q(-left, 'V', 3)}`;
  return {
    right,
    said: `At ${q(time, 's', 3)} ${there}; the best instant, ${q(truth.best, 's', 3)}, leaves ${q(most, 'V', 3)}`,
    whyNot: right ? '' : time < truth.best ? ask.early : ask.late,
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
  const whyNot = drawingFault(ask.at, values, so, truth.curve);
  const right = whyNot === '' && off < ALIKE * meanOf(so.map(Math.abs));
  return {
    right,
    said: `Off by ${q(off, 'V', 2)} on average`,
    whyNot: right ? '' : whyNot || 'Spike and bell are there; their heights are not. Compare them below.',
  };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** What most of all is wrong with a drawn read, in words that end in something to look at; empty: its shape is right. */
function drawingFault(
  at: readonly number[],
  values: readonly number[],
  so: readonly number[],
  curve: StepTrace,
): string {
  const top = (from: number, to: number, of: readonly number[]): { time: number; value: number } =>
    at.reduce(
      (best, time, k) => (time >= from && time < to && of[k]! > best.value ? { time, value: of[k]! } : best),
      { time: from, value: -Infinity },
    );
  if (meanOf(values) < 0) return 'Upside down: at this core a ONE is heard upward.';
  const [edge, edgeSo] = [values, so].map((of) => top(0, EDGE_OVER, of).value) as [number, number];
  const [bell, bellSo] = [values, so].map((of) => top(EDGE_OVER, Infinity, of)) as [
    ReturnType<typeof top>,
    ReturnType<typeof top>,
  ];
  if (edge < THERE * edgeSo)
    return 'The spike is left out: while the currents rise, everything on the two lines answers. Watch the first 40 ns.';
  if (bell.value < THERE * bellSo.value)
    return 'The bell is left out: the core that turns is heard after the edge is over. Watch from 100 ns on.';
  const last = at.at(-1)!;
  const peak = curve.time.reduce(
    (best, time, i) =>
      time >= EDGE_OVER && time <= last && curve.values[i]! > curve.values[best]! ? i : best,
    curve.time.findIndex((time) => time >= EDGE_OVER),
  );
  const early = curve.time[peak]! - bell.time;
  if (Math.abs(early) < SOON) return '';
  return early > 0
    ? `Your bell comes some ${q(early, 's', 1)} early: a core takes its time. Watch where its peak is.`
    : `Your bell comes some ${q(-early, 's', 1)} late. Watch where its peak is.`;
}
