import type { Design } from '../design/design.ts';
import { absentCores } from '../mat/populated.ts';
import { type WireCourse, lengthOf, passesRight, placeOf, wireCourse } from '../mat/wire-course.ts';
import { driveWires, inhibitWires, senseWires } from './threaded-wires.ts';
import type { Passed, SeatedCore, ThreadedWire, Threading } from './threading-result.ts';

/** What to thread and in which order: the winding's own order and polarity, wire by wire. */
export function threadingOf(design: Design): Threading {
  const { mat, winding } = design;
  const course = wireCourse(mat, winding);
  const missing = absentCores(design);
  return {
    rows: mat.rows,
    columns: mat.columns,
    mats: mat.mats,
    pitch: mat.pitch,
    wires: [...driveWires(design, course), ...inhibitWires(design, course), ...senseWires(design, course)],
    cores: Array.from(course.order, (core, at) =>
      seat(course, mat.columns, core, at, !missing.has(core)),
    ).sort((a, b) => a.row - b.row || a.column - b.column),
  };
}

function seat(course: WireCourse, columns: number, core: number, at: number, present: boolean): SeatedCore {
  const { x, y } = placeOf({ columns }, core);
  const hole = { x: course.x[y]!, y: course.y[x]! };
  return {
    row: y,
    column: x,
    lean: hole.x * hole.y > 0 ? '/' : '\\',
    hole,
    polarity: course.polarity[core] === 1 ? 1 : -1,
    straight: passesRight(course, columns, at),
    place: at + 1,
    present,
  };
}

/** m of all wires of a kind, cut lengths. */
export const metresOf = ({ wires }: Threading, kind?: ThreadedWire['kind']): number =>
  wires
    .filter((wire) => kind === undefined || wire.kind === kind)
    .reduce((sum, w) => sum + w.count * w.cut, 0);

/** Is a step from core to core longer than to a neighbour? The sheet marks it. */
export const isLeap = (from: Passed, to: Passed): boolean =>
  lengthOf({ from: { x: from.column, y: from.row }, to: { x: to.column, y: to.row } }) > 1.5;
