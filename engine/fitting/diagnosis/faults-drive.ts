import type { Design } from '../../design/design.ts';
import { storedBits } from '../../mat/stored-pattern.ts';
import {
  LATE,
  eitherWay,
  inhibit,
  late,
  lateInhibit,
  lateness,
  LINES,
  lineWords,
  lowDrive,
  percent,
  share,
  slowEdge,
  type Line,
} from './fault-changes.ts';
import type { Fault, Term } from './fault.ts';

const perLine = (make: (suffix: string, lines: readonly Line[]) => Fault): Fault[] =>
  Object.entries(LINES).map(([suffix, lines]) => make(suffix, lines));

/** A line that carries nothing. */
const dead = (design: Design, line: Line): Design => lowDrive(design, [line], 0);

/** The observed cycle with another line, or with one line only. */
const lastCycle = (design: Design, change: Partial<Design['programme'][number]>): Design => ({
  ...design,
  programme: [
    ...design.programme.slice(0, -1),
    { ...design.programme[design.programme.length - 1], ...change },
  ],
});

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

const INHIBITED = (d: Design): boolean => d.drive.inhibit.amplitude > 0;

/** What may be wrong with the currents. */
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
    code: 'missing-inhibit',
    title: 'Inhibit current is missing',
    severity: undefined,
    change: (d) => inhibit(d, { amplitude: 0 }),
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'low-inhibit',
    title: 'Inhibit current is wrong',
    severity: share([0.4, 0.7, 0.88, 1.12], 0.05, 1.4),
    change: (d, left) => inhibit(d, { amplitude: d.drive.inhibit.amplitude * left }),
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'leaking-inhibit',
    title: 'Inhibit current flows where a ONE is written',
    severity: {
      ...share([0.1, 0.3, 0.7], 0.02, 1.2),
      worst: 'high',
      describe: (v) => `${percent(v)} of the inhibit current`,
    },
    change: (d, part) =>
      d.selected.bit === 1 && d.programme[d.programme.length - 1].write === 'restore'
        ? lastCycle(inhibit(d, { amplitude: d.drive.inhibit.amplitude * part }), { write: 'zero' })
        : d,
    possible: INHIBITED,
    shows: ({ one }) => one,
  },
  {
    code: 'late-inhibit',
    title: 'Inhibit pulse comes late',
    severity: lateness(LATE, 5e-9, 500e-9),
    change: lateInhibit,
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'short-inhibit',
    title: 'Inhibit pulse ends too early',
    severity: lateness(LATE, 10e-9, 2e-6),
    change: (d, seconds) => {
      const { lag, lead, rise, fall } = d.drive.inhibit;
      const shortest = (rise + fall) / 2 + 5e-9;
      const most = d.cycle.writeWidth + lag + lead - shortest;
      return inhibit(d, { lag: lag - Math.min(seconds, most) });
    },
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
];
