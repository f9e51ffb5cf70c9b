import { needsEvenSides, polarityOf, threadingOrder } from './winding.ts';
import type { Mat, Winding } from '../design/mat.ts';

/** A point of the mat, or a step in it, in pitches: x counts columns to the right, y rows downward. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** A straight stretch of wire. */
export interface Run {
  readonly from: Place;
  readonly to: Place;
}

/** The sense wire of one mat as it lies: all its segments, from end A to end B. */
export interface WireCourse {
  /** Core indices in the order of the wire. */
  readonly order: Int32Array;
  /** s_z by core index. */
  readonly polarity: Int8Array;
  /** Direction in which the wire passes the core, by place in `order`; steps of the mat, not of unit length. */
  readonly passages: readonly Place[];
  /** Straight stretches between neighbouring bends; the wire ends half a pitch beyond its first and last core. */
  readonly runs: readonly Run[];
  /** Length of all of them, in pitches. */
  readonly length: number;
  /**
   * Direction of write current in each X line (1: towards higher columns) and each Y line (1: towards higher rows)
   * for which cores are passed with their polarity. Where the wire leaves it free, X lines alternate, Y lines are 1.
   */
  readonly x: Int8Array;
  readonly y: Int8Array;
}

/** A winding that the check will refuse is taken as one run, so that values can be filled in before the rules speak. */
export function wireCourse(mat: Pick<Mat, 'rows' | 'columns'>, winding: Winding): WireCourse {
  const sides = mat as Mat;
  const sound: Winding = isSound(sides, winding) ? winding : { kind: 'shared-one-run', segments: 1 };
  const order = threadingOrder(sides, sound);
  const polarity = polarityOf(sides, sound);
  const places = Array.from(order, (core) => placeOf(mat, core));
  const passages = passagesOf(places, order, polarity, sound.kind);
  const runs = runsThrough(withEnds(places));
  return {
    order,
    polarity,
    passages,
    runs,
    length: runs.reduce((sum, run) => sum + lengthOf(run), 0),
    ...lineDirections(mat, order, polarity, passages),
  };
}

export const placeOf = ({ columns }: Pick<Mat, 'columns'>, core: number): Place => ({
  x: core % columns,
  y: Math.floor(core / columns),
});

/** In pitches. */
export const lengthOf = ({ from, to }: Run): number => Math.hypot(to.x - from.x, to.y - from.y);

/**
 * Does the wire pass core number `at` of its order the way its polarity asks for, with write currents flowing as the
 * course says? Only a winding of one's own may say no: there the wire has to enter the hole from the other side.
 */
export function passesRight(course: WireCourse, columns: number, at: number): boolean {
  const core = course.order[at]!;
  const { x, y } = placeOf({ columns }, core);
  const passage = course.passages[at]!;
  return course.polarity[core]! * (passage.x * course.x[y]! + passage.y * course.y[x]!) > 0;
}

const step = (from: Place, to: Place): Place => ({ x: to.x - from.x, y: to.y - from.y });

/** The same for a direction and its opposite: 'x', 'y', 'rising', 'falling', or 'far' for no neighbour at all. */
function lineOf({ x, y }: Place): keyof typeof ALONG | 'far' {
  if (Math.abs(x) > 1 || Math.abs(y) > 1) return 'far';
  return y === 0 ? 'x' : x === 0 ? 'y' : x === y ? 'falling' : 'rising';
}

/** How most of the wire of each winding lies; of a winding of one's own, how most of its steps do. */
const LIES: Readonly<Record<Exclude<Winding['kind'], 'custom'>, keyof typeof ALONG>> = {
  'shared-one-run': 'x',
  'shared-two-halves': 'x',
  'separate-diagonal': 'rising',
  'separate-rectangular': 'y',
};

const ALONG = {
  x: { x: 1, y: 0 },
  y: { x: 0, y: 1 },
  falling: { x: 1, y: 1 },
  rising: { x: -1, y: 1 },
} as const;

/**
 * At a bend the wire goes straight through the core and bends outside it: along whichever of its two steps lies as
 * most of the wire does. A core that has neither (at a corner of a diagonal winding, in a half one core wide) is passed
 * that way too, in the sense of its polarity; row by row to and fro, as a snake goes.
 */
function passagesOf(
  places: readonly Place[],
  order: Int32Array,
  polarity: Int8Array,
  kind: Winding['kind'],
): Place[] {
  const steps = places.slice(1).map((to, i) => step(places[i]!, to));
  const free = kind === 'custom' || (kind === 'shared-one-run' && !steps.some((s) => lineOf(s) === 'x'));
  const lies = free ? commonest(steps) : LIES[kind];
  return places.map(({ y }, i) => {
    const around = [steps[i - 1], steps[i]];
    const along = around.find((s) => s && lineOf(s) === lies);
    if (along) return along;
    const sign = polarity[order[i]!]! * (lies === 'x' && y % 2 === 1 ? -1 : 1);
    return { x: sign * ALONG[lies].x, y: sign * ALONG[lies].y };
  });
}

function commonest(steps: readonly Place[]): keyof typeof ALONG {
  const counts = { x: 0, y: 0, falling: 0, rising: 0, far: 0 };
  for (const s of steps) counts[lineOf(s)]++;
  return (['x', 'y', 'falling', 'rising'] as const).reduce((best, line) =>
    counts[line] > counts[best] ? line : best,
  );
}

function lineDirections(
  { rows, columns }: Pick<Mat, 'rows' | 'columns'>,
  order: Int32Array,
  polarity: Int8Array,
  passages: readonly Place[],
): { x: Int8Array; y: Int8Array } {
  const [x, y] = [new Float64Array(rows), new Float64Array(columns)];
  passages.forEach((passage, i) => {
    const core = order[i]!;
    x[Math.floor(core / columns)]! += polarity[core]! * passage.x;
    y[core % columns]! += polarity[core]! * passage.y;
  });
  const signs = (sums: Float64Array, free: (line: number) => 1 | -1): Int8Array =>
    Int8Array.from(sums, (sum, line) => (sum === 0 ? free(line) : sum < 0 ? -1 : 1));
  // X lines that the wire leaves free run to and fro, so that an inhibit wire parallel to them can.
  return { x: signs(x, (line) => (line % 2 === 0 ? 1 : -1)), y: signs(y, () => 1) };
}

/** The ends reach half a pitch beyond the first and the last core. */
function withEnds(places: readonly Place[]): Place[] {
  const beyond = (end: Place, next: Place | undefined, alone: number): Place => {
    if (next === undefined) return { x: end.x + alone, y: end.y };
    const away = step(next, end);
    const twice = 2 * Math.hypot(away.x, away.y);
    return { x: end.x + away.x / twice, y: end.y + away.y / twice };
  };
  return [beyond(places[0]!, places[1], -0.5), ...places, beyond(places.at(-1)!, places.at(-2), 0.5)];
}

function runsThrough(points: readonly Place[]): Run[] {
  const runs: Run[] = [];
  let from = points[0]!;
  for (let i = 1; i < points.length; i++) {
    const [here, next] = [points[i]!, points[i + 1]];
    if (next !== undefined && goesOn(step(from, here), step(here, next))) continue;
    runs.push({ from, to: here });
    from = here;
  }
  return runs;
}

const goesOn = (a: Place, b: Place): boolean =>
  Math.abs(a.x * b.y - a.y * b.x) < 1e-9 && a.x * b.x + a.y * b.y > 0;

function isSound(mat: Mat, winding: Winding): boolean {
  const cores = mat.rows * mat.columns;
  if (needsEvenSides(winding.kind)) return mat.rows % 2 === 0 && mat.columns % 2 === 0;
  if (winding.kind !== 'custom') return true;
  const { polarity, order } = winding;
  return (
    polarity?.length === mat.rows &&
    polarity.every((row) => row.length === mat.columns) &&
    order?.length === cores &&
    new Set(order).size === cores &&
    order.every((core) => core < cores)
  );
}
