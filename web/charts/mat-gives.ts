import { formatFigure, LEAST_TOLD } from '../../engine/base/format-quantity.ts';
import { chartSvg, drawGround } from './chart-frame.ts';
import { s } from '../ui/dom.ts';
import { upAxis } from './axes.ts';
import { decimate } from './decimate.ts';
import { makeSpaces } from './spaces.ts';

/** Steps of weight. */
const STEPS = 5;

/** 0 (none) to 5 (the greatest) by the root of the size, so that the weak are still seen beside the strongest. */
export const weightOf = (value: number, most: number): number =>
  most > 0 ? Math.round(STEPS * Math.sqrt(Math.min(1, Math.abs(value) / most))) : 0;

/** V: what the wire has gathered after each core, from end A to end B. */
export function runningSum(emf: Float64Array, order: ArrayLike<number>): Float64Array {
  const sums = new Float64Array(order.length);
  let sum = 0;
  for (let i = 0; i < order.length; i++) sums[i] = sum += emf[order[i]!] ?? 0;
  return sums;
}

/** V: what the strongest is drawn against; where nothing can be told, nothing is heavy. */
const largest = (values: Float64Array): number =>
  values.reduce((most, value) => Math.max(most, Math.abs(value)), LEAST_TOLD.V);

const signOf = (value: number): string => (value < 0 ? 'takes' : 'adds');

/** A drawing of one core: all of its ring, or the half that lies nearer than the wire. */
export type DrawRing = (index: number, part: 'whole' | 'near') => string;

export interface GivesOptions {
  /** V, what each core gives. */
  readonly emf: Float64Array;
  /** Cores in the order of the wire from end A. */
  readonly order: ArrayLike<number>;
  /** px, the middle of a core. */
  readonly at: (index: number) => readonly [x: number, y: number];
  readonly ring: DrawRing;
  /** Whether a core's ring steps back, so that others stand out. */
  readonly faint: (index: number) => boolean;
}

/** Class names of a core by what it gives, against the greatest of all. */
export function givesLook(emf: Float64Array, faint: GivesOptions['faint']): (index: number) => string {
  const most = largest(emf);
  return (index) => {
    const value = emf[index] ?? 0;
    const step = weightOf(value, most);
    const look = step === 0 ? 'none' : `${signOf(value)} weight-${step}`;
    return `core-gives ${look}${faint(index) ? ' faint' : ''}`;
  };
}

/** The looks of all cores and of the wire between them as one text: the same text is the same picture. */
export function givesKey(emf: Float64Array, order: ArrayLike<number>): string {
  const steps = (values: Float64Array): string => {
    const most = largest(values);
    return Array.from(values, (value) => Math.sign(value) * weightOf(value, most)).join();
  };
  return `${steps(emf)};${steps(runningSum(emf, order))}`;
}

/**
 * What each core gives, as the weight of its ring (solid: adds, broken: takes away), and the wire through it: over
 * its far half, under its near half, with the sign and weight of its sum from end A.
 */
export function drawGives({ emf, order, at, ring, faint }: GivesOptions): SVGElement[] {
  const lookOf = givesLook(emf, faint);
  const rings = new Map<string, { whole: string; near: string }>();
  for (let index = 0; index < emf.length; index++) {
    const key = lookOf(index);
    const has = rings.get(key) ?? { whole: '', near: '' };
    rings.set(key, { whole: has.whole + ring(index, 'whole'), near: has.near + ring(index, 'near') });
  }
  const sums = runningSum(emf, order);
  const mostSum = largest(sums);
  const wires = new Map<string, string>();
  for (let i = 0; i + 1 < order.length; i++) {
    const step = weightOf(sums[i]!, mostSum);
    const key = step === 0 ? 'wire-sum none' : `wire-sum ${signOf(sums[i]!)} weight-${step}`;
    const [a, b] = [at(order[i]!), at(order[i + 1]!)];
    wires.set(key, `${wires.get(key) ?? ''}M${a.join(',')}L${b.join(',')}`);
  }
  const paths = (all: Iterable<readonly [string, string]>) =>
    [...all].map(([name, d]) => s('path', { d, class: name }));
  return [
    ...paths([...rings].map(([name, { whole }]) => [name, whole] as const)),
    ...paths(wires),
    ...paths([...rings].map(([name, { near }]) => [`${name} near`, near] as const)),
  ];
}

export interface WireSumOptions {
  readonly emf: Float64Array;
  readonly order: ArrayLike<number>;
  /** Index of the selected core. */
  readonly selected: number;
  readonly width: number;
  readonly em: number;
}

/** The sum along the unrolled wire, from end A to end B, with the selected core marked. */
export function wireSumChart({ emf, order, selected, width, em }: WireSumOptions): SVGSVGElement {
  const sums = runningSum(emf, order);
  const height = 84 * em;
  const margins = { top: 20 * em, right: 8, bottom: 16 * em, left: 34 * em };
  const [low, high] = [
    sums.reduce((least, sum) => Math.min(least, sum), 0),
    sums.reduce((most, sum) => Math.max(most, sum), 0),
  ];
  const room = Math.max(0.08 * (high - low), LEAST_TOLD.V);
  const spaces = makeSpaces(
    { width, height, margins },
    { from: 0, to: Math.max(1, sums.length) },
    {
      low: low - room,
      high: high + room,
    },
  );
  const { x, y } = spaces;
  const bottom = height - margins.bottom;
  const points = decimate({ start: 0.5, step: 1, values: sums }, 0, sums.length, Math.ceil(width));
  let d = `M${x(0)},${y(0)}`;
  for (let i = 0; i < points.length; i += 2)
    d += `H${x(points[i]!).toFixed(1)}V${y(points[i + 1]!).toFixed(1)}`;
  const place = Array.from(order).indexOf(selected);
  const volts = (value: number) => formatFigure(value, 'V', 3);
  const note = (text: string, atX: number, anchor: string) =>
    s('text', { x: atX, y: bottom + 13 * em, class: 'chart-note', 'text-anchor': anchor }, text);
  return chartSvg(
    {
      width,
      height,
      className: 'chart wire-sum',
      name: `Sum along the wire from end A to end B: between ${volts(low)} and ${volts(high)}, ${volts(sums.at(-1) ?? 0)} in all.`,
    },
    drawGround(spaces),
    upAxis(spaces, { symbol: 'u', unit: 'V' }, em),
    place >= 0 &&
      s('line', {
        x1: x(place + 0.5),
        x2: x(place + 0.5),
        y1: margins.top,
        y2: bottom,
        class: 'sum-selected',
      }),
    s('path', { d: `${d}H${x(sums.length)}`, class: 'sum-line' }),
    note('A', margins.left, 'middle'),
    note('sum along the wire', (margins.left + width) / 2, 'middle'),
    note('B', width - margins.right, 'middle'),
  );
}
