import type { Design } from '../../design/design.ts';
import { storedBits } from '../../mat/stored-pattern.ts';
import {
  LATE,
  eitherWay,
  lastCycle,
  late,
  lateness,
  LINES,
  lineWords,
  lowDrive,
  percent,
  slowEdge,
  type Line,
} from './fault-changes.ts';
import type { Fault, Term } from './fault.ts';

const perLine = (make: (suffix: string, lines: readonly Line[]) => Fault): Fault[] =>
  Object.entries(LINES).map(([suffix, lines]) => make(suffix, lines));

/** A line that carries nothing. */
const dead = (design: Design, line: Line): Design => lowDrive(design, [line], 0);

/**
 * A second row (or column) is driven with the selected one: the answer of that address is added, and the line that both
 * share is counted once. Exact as far as the wire is linear. What is written, and whether it is inhibited, follows from
 * the selected core.
 */
function together(design: Design, line: 'row' | 'column', bit: 0 | 1): readonly Term[] {
  const at = addressOf(design, line, bit) ?? [design.selected.row, design.selected.column];
  const [row, column] = at;
  const last = design.programme[design.programme.length - 1];
  const restored = design.selected.bit === 1 ? 'one' : 'zero';
  const same = lastCycle(design, { write: last.write === 'restore' ? restored : last.write });
  const there = { ...lastCycle(same, { row, column }), selected: { row, column, bit } };
  return [
    { design: same, weight: 1 },
    { design: there, weight: 1 },
    // Not one line only: then the inhibit current, which is counted twice too, would not flow.
    { design: dead(same, line === 'row' ? 'x' : 'y'), weight: -1 },
  ];
}

/** The nearest address on another row (or column) whose core holds a bit. */
function addressOf(
  design: Design,
  line: 'row' | 'column',
  bit: 0 | 1,
): readonly [number, number] | undefined {
  const { rows, columns } = design.mat;
  const { row, column } = design.selected;
  const bits = storedBits(design);
  const count = line === 'row' ? rows : columns;
  for (let step = 1; step < count; step++) {
    const [r, c] = line === 'row' ? [(row + step) % rows, column] : [row, (column + step) % columns];
    if (bits[r * columns + c] === bit) return [r, c];
  }
  return undefined;
}

/** What may be wrong with the currents of X and Y. */
export const DRIVE_FAULTS: readonly Fault[] = [
  ...perLine((suffix, lines) => ({
    code: `low-drive${suffix}`,
    title: `Drive current wrong ${lineWords[suffix]}`,
    severity: eitherWay(
      [0.7, 0.85, 0.94, 1.06, 1.15],
      0.4,
      1.4,
      (v) => `${percent(v)} of what the design says`,
    ),
    change: (d, left) => lowDrive(d, lines, left),
  })),
  ...(['x', 'y'] as const).map((line): Fault => ({
    code: `dead-line-${line}`,
    title: `The ${line.toUpperCase()} line is dead`,
    severity: undefined,
    change: (d) => dead(d, line),
  })),
  ...(['row', 'column'] as const).flatMap((line) =>
    ([1, 0] as const).map((bit): Fault => ({
      code: `two-${line}s`,
      title: `Two ${line}s are driven at once, the other core holding a ${bit === 1 ? 'ONE' : 'ZERO'}`,
      severity: undefined,
      change: (d) => d,
      terms: (d) => together(d, line, bit),
      possible: (d) => addressOf(d, line, bit) !== undefined,
    })),
  ),
  {
    code: 'late-drive-y',
    title: 'Y drive comes late',
    severity: lateness(LATE, 3e-9, 300e-9),
    change: late,
  },
  {
    code: 'late-drive-x',
    title: 'X drive comes late',
    severity: lateness(LATE, 3e-9, 300e-9),
    change: (d, seconds) => late(d, -seconds),
  },
  ...perLine((suffix, lines) => ({
    code: `slow-edge${suffix}`,
    title: `Slow rising edge ${lineWords[suffix]}`,
    severity: {
      tried: [1.4, 2, 3],
      low: 1.1,
      high: 8,
      worst: 'high' as const,
      describe: (v: number) => `${Number(v.toPrecision(2))} times as long as the design says`,
    },
    change: (d, times) => slowEdge(d, lines, times),
  })),
  {
    code: 'exchanged-rises',
    title: 'The rising edges of X and Y are exchanged',
    severity: undefined,
    change: ({ drive, ...d }) => ({
      ...d,
      drive: { ...drive, x: { ...drive.x, rise: drive.y.rise }, y: { ...drive.y, rise: drive.x.rise } },
    }),
    possible: ({ drive }) => drive.x.rise !== drive.y.rise,
  },
];
