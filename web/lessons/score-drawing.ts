import { valueAt } from '../../engine/sense-amplifier/detector.ts';
import type { Ask, Curve, Truth } from './step.ts';

/** What most of all is wrong with a drawn read; `by`: s. */
export type DrawingFault =
  | { readonly code: 'upsideDown' | 'noSpike' | 'noBell' | 'heights' }
  | { readonly code: 'bellEarly' | 'bellLate'; readonly by: number };

export interface DrawingScore {
  readonly kind: 'draw';
  readonly right: boolean;
  /** V on average. */
  readonly off: number;
  readonly fault?: DrawingFault;
}

/** s: the edges of the drive are over. */
const EDGE_OVER = 100e-9;
/** A drawing is right that is off by less than this part of what is there, both on average. */
const ALIKE = 0.5;
/** Less than this part of what is there counts as left out. */
const THERE = 0.3;
/** s: a peak may be drawn so much too early or too late. */
const SOON = 70e-9;

/** Holds a drawn curve, V at each point, against what is so. */
export function scoreDrawing(
  ask: Extract<Ask, { readonly kind: 'draw' }>,
  truth: Extract<Truth, { readonly kind: 'draw' }>,
  values: readonly number[],
): DrawingScore {
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
