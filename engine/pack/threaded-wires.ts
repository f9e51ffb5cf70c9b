import { resistancePerMetre } from '../core/straight-wires.ts';
import type { Design } from '../design/design.ts';
import { isShared } from '../mat/winding.ts';
import { lineResistance } from '../mat/wire-at-temperature.ts';
import { type WireCourse, placeOf } from '../mat/wire-course.ts';
import { driveLineLength } from '../mat/wire-values.ts';
import type { Passed, ThreadedWire } from './threading-result.ts';

/** Slack and ends for soldering, our own choice: a tenth of the length and 60 mm at either end. */
const SLACK = 1.1;
const ENDS = 0.12;
/** Of a wire's diameter and the solder: what a meter may show beside the sum. */
const ACCEPT = 0.1;

export function driveWires(design: Design, course: WireCourse): ThreadedWire[] {
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
export function senseWires(design: Design, course: WireCourse): ThreadedWire[] {
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
export function inhibitWires(design: Design, course: WireCourse): ThreadedWire[] {
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
