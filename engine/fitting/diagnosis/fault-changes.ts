import { ordinaryCore } from '../../mat/ordinary-core.ts';
import { formatQuantity } from '../../base/format-quantity.ts';
import type { CoreException } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';
import { pulseInstants } from '../../drive/programme.ts';
import type { Severity } from './fault.ts';

/** A share of what the design says that is left. */
export const share = (tried: readonly number[], low: number, high: number): Severity => ({
  tried,
  low,
  high,
  worst: 'low',
  describe: (v) => `to ${Math.round(v * 100)} % of what the design says`,
});
/**
 * Lateness is looked for closely: inhibit edges are many times a bell, and where they do not overlap nothing says which
 * way to go.
 */
export const LATE: readonly number[] = [8, 15, 24, 34, 46, 58, 70, 82, 94, 106, 118, 130, 150, 190, 240].map(
  (ns) => ns * 1e-9,
);

/** s by which something comes late. */
export const lateness = (tried: readonly number[], low: number, high: number): Severity => ({
  tried,
  low,
  high,
  worst: 'high',
  describe: (v) => `by ${formatQuantity(v, 's', 2)}`,
});

/** A fault that may go either way. */
export const eitherWay = (
  tried: readonly number[],
  low: number,
  high: number,
  describe: Severity['describe'],
): Severity => ({ tried, low, high, worst: 'both', describe });

export const percent = (v: number): string => `${Math.round(v * 100)} %`;

/** A change of one core alone. */
export function changeCore(
  design: Design,
  row: number,
  column: number,
  change: Partial<CoreException>,
): Design {
  const own =
    design.exceptions.find((e) => e.row === row && e.column === column) ?? ordinaryCore(row, column);
  const others = design.exceptions.filter((e) => e !== own);
  return { ...design, exceptions: [...others, { ...own, ...change }] };
}

/** A change of the selected core alone. */
export const selectedCore = (design: Design, change: Partial<CoreException>): Design =>
  changeCore(design, design.selected.row, design.selected.column, change);

/** The amplifier's leads exchanged: terminations stand on its board and stay there. */
export const exchangeEnds = (design: Design): Design => ({
  ...design,
  terminations: { ...design.terminations, a: design.terminations.b, b: design.terminations.a },
});

/** Another resistance at one end, ohm. */
export const termination = (design: Design, end: 'a' | 'b', ohm: number): Design => ({
  ...design,
  terminations: { ...design.terminations, [end]: ohm },
});

/** A drive line. */
export type Line = 'x' | 'y';
/** The lines that a fault may lie on, by what it adds to the fault's code. */
export const LINES: Readonly<Record<string, readonly Line[]>> = { '': ['x', 'y'], '-x': ['x'], '-y': ['y'] };
export const lineWords: Readonly<Record<string, string>> = {
  '': 'on both lines',
  '-x': 'on X',
  '-y': 'on Y',
};

/** `left` of the drive on some lines. */
export function lowDrive(design: Design, lines: readonly Line[], left: number): Design {
  const drive = { ...design.drive };
  for (const line of lines) {
    const d = drive[line];
    const source = d.source.kind === 'voltage' ? { ...d.source, voltage: d.source.voltage * left } : d.source;
    drive[line] = {
      ...d,
      source,
      readAmplitude: d.readAmplitude * left,
      writeAmplitude: d.writeAmplitude * left,
    };
  }
  return { ...design, drive };
}

/** An edge never longer than its pulse can hold. */
export function slowEdge(design: Design, lines: readonly Line[], times: number): Design {
  const { readWidth, writeWidth } = design.cycle;
  const longest = 0.9 * Math.min(readWidth, writeWidth);
  const drive = { ...design.drive };
  for (const line of lines) {
    const d = drive[line];
    drive[line] = { ...d, rise: Math.max(d.rise, Math.min(longest, d.rise * times)), fall: d.fall };
  }
  return { ...design, drive };
}

/** Y later than X by so many s; the inhibit pulse, which is made elsewhere, stays where it was. */
export function late(design: Design, seconds: number): Design {
  const moved = { ...design, cycle: { ...design.cycle, stagger: design.cycle.stagger + seconds } };
  const [before, after] = [pulseInstants(design).inhibit, pulseInstants(moved).inhibit];
  const { lead, lag } = design.drive.inhibit;
  return inhibit(moved, { lead: lead + (after.on - before.on), lag: lag - (after.off - before.off) });
}

export const inhibit = (design: Design, change: Partial<Design['drive']['inhibit']>): Design => ({
  ...design,
  drive: { ...design.drive, inhibit: { ...design.drive.inhibit, ...change } },
});

/** The inhibit pulse as it is, later. */
export const lateInhibit = (design: Design, seconds: number): Design =>
  inhibit(design, {
    lead: design.drive.inhibit.lead - seconds,
    lag: design.drive.inhibit.lag + seconds,
  });

/** The observed cycle with another line, or with one line only. */
export const lastCycle = (design: Design, change: Partial<Design['programme'][number]>): Design => ({
  ...design,
  programme: [
    ...design.programme.slice(0, -1),
    { ...design.programme[design.programme.length - 1], ...change },
  ],
});
