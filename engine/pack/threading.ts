import { absentCores } from '../mat/populated.ts';
import { isShared } from '../mat/winding.ts';
import { lineResistance } from '../mat/wire-at-temperature.ts';
import { resistancePerMetre } from '../core/straight-wires.ts';
import type { Design } from '../design/design.ts';
import {
  lengthOf,
  passesRight,
  placeOf,
  wireCourse,
  type Place,
  type WireCourse,
} from '../mat/wire-course.ts';
import { driveLineLength } from '../mat/wire-values.ts';

/** One core on the way of a wire. */
export interface Passed {
  readonly row: number;
  readonly column: number;
  /** Way through it in steps of the mat, x to the right, y downward. */
  readonly way: Place;
}

/** A wire to be cut, threaded and measured. */
export interface ThreadedWire {
  readonly kind: 'x' | 'y' | 'sense' | 'inhibit';
  /** Its name on every sheet: "X3", "Y0", "sense", "sense, half A", "inhibit". */
  readonly name: string;
  /** How many of it there are: one for the stack (drive lines), or one a mat. */
  readonly count: number;
  /** Where write current enters and leaves the stack: a side of a drive line, an end of the others. */
  readonly from: string;
  readonly to: string;
  /** Cores of one mat in its order; of a drive line the way of write current. */
  readonly cores: readonly Passed[];
  /** m through the mats and back to the drivers, and what to cut. */
  readonly length: number;
  readonly cut: number;
  /** ohm between its ends once it lies, at 25 °C, and the ends of what to accept. */
  readonly resistance: number;
  readonly accept: { readonly low: number; readonly high: number };
}

/** How one core sits and what passes it. */
export interface SeatedCore {
  readonly row: number;
  readonly column: number;
  /** Its disc leans like / or like \ as the sheet is held; write current passes it with `hole`. */
  readonly lean: '/' | '\\';
  readonly hole: Place;
  /** s_z as the board plans it. */
  readonly polarity: 1 | -1;
  /** False: the sense wire has to enter this core from the other side to have its polarity. */
  readonly straight: boolean;
  /** Place on the sense wire, from 1 at end A. */
  readonly place: number;
  readonly present: boolean;
}

export interface Threading {
  readonly rows: number;
  readonly columns: number;
  readonly mats: number;
  /** m. */
  readonly pitch: number;
  readonly wires: readonly ThreadedWire[];
  /** Row by row. */
  readonly cores: readonly SeatedCore[];
}

/** Slack and ends for soldering, our own choice: a tenth of the length and 60 mm at either end. */
const SLACK = 1.1;
const ENDS = 0.12;
/** Of a wire's diameter and the solder: what a meter may show beside the sum. */
const ACCEPT = 0.1;

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

function driveWires(design: Design, course: WireCourse): ThreadedWire[] {
  const { mat, wire } = design;
  return (['x', 'y'] as const).flatMap((axis) => {
    const [lines, along] = axis === 'x' ? [mat.rows, mat.columns] : [mat.columns, mat.rows];
    const length = driveLineLength(mat, along);
    return Array.from({ length: lines }, (_, line): ThreadedWire => {
      const sign = course[axis][line]!;
      const cores = Array.from({ length: along }, (_, i): Passed => {
        const k = sign > 0 ? i : along - 1 - i;
        return axis === 'x'
          ? { row: line, column: k, way: { x: sign, y: 0 } }
          : { row: k, column: line, way: { x: 0, y: sign } };
      });
      const [low, high] = axis === 'x' ? ['left', 'right'] : ['top', 'bottom'];
      return withMeter(
        {
          kind: axis,
          name: `${axis.toUpperCase()}${line}`,
          count: 1,
          from: sign > 0 ? low : high,
          to: sign > 0 === (mat.mats % 2 === 1) ? high : low,
          cores,
          length,
        },
        lineResistance({ ...design, temperature: 25 }, axis),
        wire,
      );
    });
  });
}

/** The sense or shared wire: one, or two halves, or as many as it is cut into. */
function senseWires(design: Design, course: WireCourse): ThreadedWire[] {
  const { winding, mat, wire } = design;
  const halves = winding.kind === 'shared-two-halves';
  const parts = halves ? 2 : winding.segments;
  const size = course.order.length / parts;
  const shared = isShared(winding);
  const whole = course.length * mat.pitch;
  return Array.from({ length: parts }, (_, part): ThreadedWire => {
    const order = course.order.slice(part * size, (part + 1) * size);
    const cores = Array.from(order, (core, i): Passed => {
      const { x, y } = placeOf(mat, core);
      return { row: y, column: x, way: course.passages[part * size + i]! };
    });
    const name = shared ? 'sense and inhibit' : 'sense';
    const called = halves
      ? `${name}, half ${part === 0 ? 'A' : 'B'}`
      : parts > 1
        ? `${name}, part ${part + 1}`
        : name;
    return withMeter(
      {
        kind: 'sense',
        name: called,
        count: mat.mats,
        from: halves && part === 1 ? 'joint' : parts > 1 && !halves ? `end A${part + 1}` : 'end A',
        to: halves && part === 0 ? 'joint' : parts > 1 && !halves ? `end B${part + 1}` : 'end B',
        cores,
        length: whole / parts,
      },
      order.length * wire.resistancePerCore,
      wire,
    );
  });
}

/** A wire of its own, against the write current in X, row by row. */
function inhibitWires(design: Design, course: WireCourse): ThreadedWire[] {
  const { winding, mat, wire } = design;
  if (isShared(winding)) return [];
  const cores: Passed[] = [];
  let back = 0;
  for (let row = 0; row < mat.rows; row++) {
    const sign = -course.x[row]!;
    if (row > 0 && sign === -course.x[row - 1]!) back += mat.columns;
    for (let i = 0; i < mat.columns; i++)
      cores.push({ row, column: sign > 0 ? i : mat.columns - 1 - i, way: { x: sign, y: 0 } });
  }
  const length = (mat.rows * mat.columns + (mat.rows - 1) + back) * mat.pitch;
  const perMetre = resistancePerMetre(wire.material, wire.bareDiameter, 25);
  return [
    withMeter(
      {
        kind: 'inhibit',
        name: 'inhibit',
        count: mat.mats,
        from: 'inhibit driver',
        to: 'inhibit return',
        cores,
        length,
      },
      length * perMetre,
      wire,
    ),
  ];
}

function withMeter(
  wire: Omit<ThreadedWire, 'cut' | 'resistance' | 'accept'>,
  inMat: number,
  { material, bareDiameter }: Design['wire'],
): ThreadedWire {
  const perMetre = resistancePerMetre(material, bareDiameter, 25);
  const ends = wire.kind === 'x' || wire.kind === 'y' ? 0 : ENDS;
  const resistance = inMat + ends * perMetre;
  const spread = ACCEPT * resistance;
  return {
    ...wire,
    cut: wire.length * SLACK + ENDS,
    resistance,
    accept: { low: resistance - spread, high: resistance + spread + 0.2 },
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
