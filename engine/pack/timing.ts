import type { Design } from '../design/design.ts';
import type { EdgeShape } from '../design/drive.ts';
import { halfTime } from '../drive/edge.ts';
import { pulseInstants } from '../drive/programme.ts';

/** A signal of the timing sheet and the value-change file. */
export type TimingSignal =
  'x_read' | 'x_write' | 'y_read' | 'y_write' | 'inhibit' | 'strobe' | 'latch' | 'disturb';

/** One edge, s from the start of the read edge of the earlier line. */
export interface TimingEdge {
  readonly signal: TimingSignal;
  readonly edge: 'on' | 'off';
  /** When the driver is told: the current starts to change. */
  readonly start: number;
  /** Half amplitude. */
  readonly half: number;
  /** Full amplitude, or nothing. */
  readonly end: number;
  /** How far it may stray to either side, s: what the margin counted on. */
  readonly tolerance: number;
  /** What the tolerance is. */
  readonly because: string;
}

export interface Timing {
  readonly edges: readonly TimingEdge[];
  /** s. */
  readonly period: number;
  /** s, middle of the aperture. */
  readonly strobe: number;
}

/** Standard deviations of an edge's time that its limits allow for, as in the strobe's jitter. */
export const TIMING_SIGMAS = 3;

/**
 * Every edge of one cycle with an inhibited write.
 * @param strobe s from the start of read to the middle of the aperture, and the interval in which it may lie
 */
export function timingOf(
  design: Design,
  strobe: {
    readonly time: number;
    readonly interval: { readonly start: number; readonly end: number } | undefined;
  },
): Timing {
  const { drive, cycle, tolerances } = design;
  const at = pulseInstants(design);
  const edge = (
    signal: TimingSignal,
    on: boolean,
    half: number,
    shape: EdgeShape,
    duration: number,
    tolerance: number,
    because: string,
  ): TimingEdge => {
    const start = half - halfTime(shape, duration);
    return { signal, edge: on ? 'on' : 'off', start, half, end: start + duration, tolerance, because };
  };
  const pulse = (
    signal: TimingSignal,
    on: number,
    off: number,
    d: { readonly edge: EdgeShape; readonly rise: number; readonly fall: number },
    tolerance: (duration: number) => readonly [number, string],
  ): TimingEdge[] => [
    edge(signal, true, on, d.edge, d.rise, ...tolerance(d.rise)),
    edge(signal, false, off, d.edge, d.fall, ...tolerance(d.fall)),
  ];
  // A slower or faster edge moves half amplitude by half of what it takes longer.
  const byEdge = (duration: number): readonly [number, string] => [
    (TIMING_SIGMAS * tolerances.edge * duration) / 2,
    `edge time ±${Math.round(TIMING_SIGMAS * tolerances.edge * 100)} %`,
  ];
  const lines = (['x', 'y'] as const).flatMap((line) => [
    ...pulse(`${line}_read`, at[line].readOn, at[line].readOff, drive[line], byEdge),
    ...pulse(`${line}_write`, at[line].writeOn, at[line].writeOff, drive[line], byEdge),
  ]);
  const cover = coverOf(design, at);
  const inhibit: TimingEdge[] = [
    edge('inhibit', true, at.inhibit.on, drive.inhibit.edge, drive.inhibit.rise, cover.before, COVERS),
    edge('inhibit', false, at.inhibit.off, drive.inhibit.edge, drive.inhibit.fall, cover.after, COVERS),
  ];
  const disturb = cycle.postWriteDisturb
    ? pulse('disturb', at.disturb.on, at.disturb.off, drive.x, byEdge)
    : [];
  return {
    edges: [...lines, ...inhibit, ...disturb, ...strobeEdges(design, strobe)].sort(
      (a, b) => a.start - b.start,
    ),
    period: cycle.period,
    strobe: strobe.time,
  };
}

const COVERS = 'must cover the write pulse';

/** s by which the inhibit is on before the write starts to rise, and after it has fallen. */
function coverOf({ drive }: Design, at: ReturnType<typeof pulseInstants>): { before: number; after: number } {
  const { inhibit } = drive;
  const lines = ['x', 'y'] as const;
  const full = at.inhibit.on - halfTime(inhibit.edge, inhibit.rise) + inhibit.rise;
  const starts = Math.min(...lines.map((l) => at[l].writeOn - halfTime(drive[l].edge, drive[l].rise)));
  const falls = at.inhibit.off - halfTime(inhibit.edge, inhibit.fall);
  const ends = Math.max(
    ...lines.map((l) => at[l].writeOff - halfTime(drive[l].edge, drive[l].fall) + drive[l].fall),
  );
  return { before: Math.max(0, starts - full), after: Math.max(0, falls - ends) };
}

/** The latch listens for the aperture about the strobe, then holds the bit to the end of the cycle. */
function strobeEdges(
  { strobe, tolerances, cycle }: Design,
  { time, interval }: Parameters<typeof timingOf>[1],
): TimingEdge[] {
  const stray = TIMING_SIGMAS * strobe.jitter + 2 * tolerances.strobe;
  const inside = interval ? Math.min(time - interval.start, interval.end - time) : 0;
  const [tolerance, because] =
    interval && inside > 0
      ? [inside, 'to the nearer end of the window']
      : [stray, 'jitter and setting as stated'];
  const sharp = (signal: 'strobe' | 'latch', edge: 'on' | 'off', at: number): TimingEdge => ({
    signal,
    edge,
    start: at,
    half: at,
    end: at,
    tolerance: signal === 'latch' ? 0 : tolerance,
    because: signal === 'latch' ? 'the logic’s own' : because,
  });
  const [open, shut] = [time - strobe.aperture / 2, time + strobe.aperture / 2];
  return [
    sharp('strobe', 'on', open),
    sharp('strobe', 'off', shut),
    sharp('latch', 'on', shut),
    sharp('latch', 'off', cycle.period),
  ];
}
