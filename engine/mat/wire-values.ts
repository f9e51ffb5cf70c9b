/**
 * What wires of a given geometry do, by handbook formulas: resistance, inductance, capacitance of the sense wire per
 * core, its couplings to the drive lines per crossing, resistance and inductance of the drive lines. Air only: no
 * ferrite, no conducting plane nearby, wires that lie straight. What that leaves out is within the ranges that
 * wire-sources.ts states.
 */
import {
  crossingCapacitance,
  ownDistance,
  pairCapacitancePerMetre,
  pairInductancePerMetre,
  parallelMutual,
  potentialBeside,
  resistancePerMetre,
  straightWireInductance,
} from '../core/straight-wires.ts';
import type { Conductor, Mat, Winding } from '../design/mat.ts';
import { lengthOf, wireCourse, type Place, type Run, type WireCourse } from './wire-course.ts';

export interface WireGeometry {
  readonly mat: Pick<Mat, 'rows' | 'columns' | 'mats' | 'pitch' | 'spacing' | 'leads'>;
  readonly winding: Winding;
  readonly wire: {
    readonly material: Conductor;
    readonly bareDiameter: number;
    readonly distance: number;
  };
}

/** SI; resistances at 25 °C. */
export interface WireValues {
  readonly resistancePerCore: number;
  readonly inductancePerCore: number;
  readonly capacitancePerCore: number;
  readonly mutualX: number;
  readonly mutualY: number;
  readonly couplingCapacitance: number;
  readonly x: { readonly resistance: number; readonly inductance: number };
  readonly y: { readonly resistance: number; readonly inductance: number };
}

/** A page asks for the same wires at every touch of a slider. */
const known = new Map<string, WireValues>();

export function wireValues(geometry: WireGeometry): WireValues {
  const key = JSON.stringify(geometry);
  const held = known.get(key);
  if (held) return held;
  if (known.size >= 32) known.clear();
  const values = workOut(geometry);
  known.set(key, values);
  return values;
}

function workOut(geometry: WireGeometry): WireValues {
  const { mat, wire } = geometry;
  const course = wireCourse(mat, geometry.winding);
  const cores = mat.rows * mat.columns;
  const perMetre = resistancePerMetre(wire.material, wire.bareDiameter, 25);
  const [atX, atY] = crossingCapacitances(geometry, course);
  return {
    resistancePerCore: (perMetre * course.length * mat.pitch) / cores,
    inductancePerCore: senseInductance(geometry, course) / cores,
    // Drive lines at rest are held by their drivers: they are the surroundings.
    capacitancePerCore: atX + atY,
    mutualX: mutualPerCrossing(geometry, course, 'x'),
    mutualY: mutualPerCrossing(geometry, course, 'y'),
    couplingCapacitance: (atX + atY) / 2,
    x: driveLine(geometry, mat.columns, perMetre),
    y: driveLine(geometry, mat.rows, perMetre),
  };
}

/** m of one drive line: through every mat, from mat to mat, and its leads. */
export const driveLineLength = (
  { mats, pitch, spacing, leads }: WireGeometry['mat'],
  cores: number,
): number => mats * cores * pitch + (mats - 1) * spacing + leads.length;

function driveLine({ mat, wire }: WireGeometry, cores: number, perMetre: number): WireValues['x'] {
  const radius = wire.bareDiameter / 2;
  const straight = (length: number): number => Math.max(0, straightWireInductance(length, radius));
  const inductance =
    mat.mats * straight(cores * mat.pitch) +
    (mat.mats > 1 ? (mat.mats - 1) * straight(mat.spacing) : 0) +
    mat.leads.length * pairInductancePerMetre(radius, Math.max(mat.leads.distance, 2 * radius));
  return { resistance: perMetre * driveLineLength(mat, cores), inductance };
}

/** Above this many straight runs (a winding of one's own, at random) neighbours are taken to run to and fro. */
const MOST_RUNS = 700;

/**
 * H of the whole wire: every run with itself and with every run parallel to it; others are at right angles or short.
 * Endless runs to and fro, a distance w apart, tend to mu_0/(2 pi) (ln(2 w/(pi r)) + 1/4) a metre (Wallis's product).
 */
function senseInductance({ mat, wire }: WireGeometry, { runs, length }: WireCourse): number {
  const radius = wire.bareDiameter / 2;
  if (runs.length > MOST_RUNS)
    return length * mat.pitch * pairInductancePerMetre(radius, (2 * mat.pitch) / Math.PI);
  const own = ownDistance(radius);
  const lines = runs.map((run) => alongLine(run, mat.pitch));
  let sum = 0;
  lines.forEach((a, i) => {
    sum += parallelMutual(a.start, a.end, a.start, a.end, own);
    for (const b of lines.slice(i + 1)) {
      if (Math.abs(a.ux * b.uy - a.uy * b.ux) > 1e-9) continue;
      const sense = a.ux * b.ux + a.uy * b.uy;
      const apart = Math.max(Math.abs(sense * b.beside - a.beside), own);
      const [from, to] = [sense * b.start, sense * b.end];
      sum += 2 * sense * parallelMutual(a.start, a.end, Math.min(from, to), Math.max(from, to), apart);
    }
  });
  return sum;
}

/** A run as a direction, how far its line lies beside the origin, and where on it the run starts and ends, m. */
function alongLine(run: Run, pitch: number) {
  const length = lengthOf(run);
  const [ux, uy] = [(run.to.x - run.from.x) / length, (run.to.y - run.from.y) / length];
  const start = (run.from.x * ux + run.from.y * uy) * pitch;
  return { ux, uy, beside: (run.from.x * uy - run.from.y * ux) * pitch, start, end: start + length * pitch };
}

/** Lines looked at where a mat has more, evenly spread. */
const LOOKED_AT = 5;

/**
 * H per crossing: what one drive line's current links with the wire, counted at each place of the line with the
 * polarity of the core there, over its cores. Where all cores have one polarity this is the whole mutual inductance;
 * in a balanced winding, where that is nought, it is what each core's stretch has for itself. The wire is closed by a
 * lead from end B along the mat's edge to end A, or there would be no circuit. The mean over the lines; where the wire
 * lies across them only turns and leads link, now with one sign, now with the other: root mean square, as adding.
 */
function mutualPerCrossing(geometry: WireGeometry, course: WireCourse, axis: 'x' | 'y'): number {
  const { rows, columns } = geometry.mat;
  const count = axis === 'x' ? rows : columns;
  const looked = Math.min(count, LOOKED_AT);
  const lines = Array.from({ length: looked }, (_, i) => Math.floor(((i + 0.5) * count) / looked));
  const each = lines.map((line) => mutualOfLine(geometry, course, axis, line));
  const across = course.passages.every((passage) => passage[axis] === 0);
  const mean = each.reduce((sum, m) => sum + m, 0) / looked;
  return across ? Math.sqrt(each.reduce((sum, m) => sum + m * m, 0) / looked) : mean;
}

function mutualOfLine(
  { mat, wire }: WireGeometry,
  course: WireCourse,
  axis: 'x' | 'y',
  line: number,
): number {
  const cores = axis === 'x' ? mat.columns : mat.rows;
  const core = (k: number): number => (axis === 'x' ? line * mat.columns + k : k * mat.columns + line);
  const polarityAt = (along: number): number =>
    course.polarity[core(Math.min(cores - 1, Math.max(0, Math.round(along))))]!;
  const straight = { at: line, start: -0.5 * mat.pitch, end: (cores - 0.5) * mat.pitch };
  const linked = [...course.runs, ...leadBack(course, mat.rows)].reduce(
    (sum, run) => sum + linkedBy(run, axis, straight, mat.pitch, wire.distance, polarityAt),
    0,
  );
  return (course[axis][line]! * linked) / cores;
}

/** Places and weights of Gauss's rule of three on 0..1. */
const GAUSS = [
  [0.5 - Math.sqrt(0.15), 5 / 18],
  [0.5, 8 / 18],
  [0.5 + Math.sqrt(0.15), 5 / 18],
] as const;

/** H: flux of a straight line (along `axis`, ends in m, at place `at` beside) through one run, weighted by polarity. */
function linkedBy(
  run: Run,
  axis: 'x' | 'y',
  line: { readonly at: number; readonly start: number; readonly end: number },
  pitch: number,
  distance: number,
  polarityAt: (along: number) => number,
): number {
  const other = axis === 'x' ? 'y' : 'x';
  const reach = run.to[axis] - run.from[axis];
  if (reach === 0) return 0;
  const slope = (run.to[other] - run.from[other]) / reach;
  const beside = (along: number): number =>
    (run.from[other] + slope * (along - run.from[axis]) - line.at) * pitch;
  const [low, high] = [Math.min(run.from[axis], run.to[axis]), Math.max(run.from[axis], run.to[axis])];
  let sum = 0;
  // Core by core: from half a pitch before it to half a pitch after it the polarity is its own.
  for (let from = low; from < high - 1e-9;) {
    let to = Math.min(high, Math.floor(from + 0.5 + 1e-9) + 0.5);
    const sign = polarityAt((from + to) / 2);
    if (slope === 0) {
      while (to < high - 1e-9 && polarityAt(to + 0.25) === sign) to = Math.min(high, to + 1);
      const apart = Math.hypot(beside(low), distance);
      sum += sign * parallelMutual(line.start, line.end, from * pitch, to * pitch, apart);
    } else {
      const near = Math.abs(beside((from + to) / 2)) < 1.5 * pitch;
      for (const [a, b] of near
        ? ([
            [from, (from + to) / 2],
            [(from + to) / 2, to],
          ] as const)
        : ([[from, to]] as const))
        for (const [at, weight] of near ? GAUSS : ([[0.5, 1]] as const)) {
          const along = a + at * (b - a);
          const apart = Math.hypot(beside(along), distance);
          sum +=
            sign * weight * (b - a) * pitch * potentialBeside(along * pitch, line.start, line.end, apart);
        }
    }
    from = to;
  }
  return Math.sign(reach) * sum;
}

/** From end B below the mat and up its left edge to end A, one pitch outside. */
function leadBack({ runs }: WireCourse, rows: number): Run[] {
  const a = runs[0]!.from;
  const b = runs.at(-1)!.to;
  const corners: Place[] = [b, { x: b.x, y: rows }, { x: -1, y: rows }, { x: -1, y: a.y }, a];
  return corners.slice(1).map((to, i) => ({ from: corners[i]!, to }));
}

/** F between the sense wire and the X, and the Y wire of one core: beside it for a pitch, or across it at its angle. */
function crossingCapacitances({ mat, wire }: WireGeometry, course: WireCourse): readonly [number, number] {
  const radius = wire.bareDiameter / 2;
  const apart = Math.max(wire.distance, 2.02 * radius);
  const mean = { x: 0, y: 0 };
  for (const { x, y } of course.passages) {
    mean.x += Math.abs(x) / Math.hypot(x, y);
    mean.y += Math.abs(y) / Math.hypot(x, y);
  }
  const at = (cosine: number): number =>
    cosine > 0.99
      ? mat.pitch * pairCapacitancePerMetre(radius, apart)
      : crossingCapacitance(mat.pitch, radius, apart, Math.acos(cosine));
  const count = course.passages.length;
  return [at(mean.x / count), at(mean.y / count)];
}
