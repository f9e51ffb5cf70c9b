/**
 * Ampere-turns against time for one core alone: pieces in order, each smooth inside. Where one piece ends and the
 * next begins the slope (or the drive itself) may jump; the integrator puts a step there.
 */
export interface CoreDrivePiece {
  /** s. */
  readonly start: number;
  /** s, later than `start`. */
  readonly end: number;
  /** A, ampere-turns at t in [start, end]. */
  readonly at: (t: number) => number;
  /** A/s, slope inside the piece; at its ends the one-sided limit. */
  readonly slope: (t: number) => number;
}
export type CoreDrive = readonly CoreDrivePiece[];

/** Straight lines through points [time in s, ampere-turns in A]; two points at one time make a jump of the drive. */
export function lineDrive(points: readonly (readonly [number, number])[]): CoreDrive {
  const pieces: CoreDrivePiece[] = [];
  for (let i = 1; i < points.length; i++) {
    const [t0, f0] = points[i - 1];
    const [t1, f1] = points[i];
    if (t1 < t0) throw new RangeError('Drive points must be in order of time.');
    if (t1 === t0) continue;
    const k = (f1 - f0) / (t1 - t0);
    pieces.push({ start: t0, end: t1, at: (t) => f0 + k * (t - t0), slope: () => k });
  }
  return pieces;
}

/** Drive that stands at F (A) from 0 to `duration` (s): a step, which already stands at t = 0. */
export const stepDrive = (F: number, duration: number): CoreDrive =>
  lineDrive([
    [0, F],
    [duration, F],
  ]);

export interface CorePulse {
  /** A, signed: positive writes, negative reads. */
  readonly amplitude: number;
  /** s, start of the rise. */
  readonly start: number;
  /** s, between half-amplitude points. */
  readonly width: number;
  /** s, 0 to 100 %, linear. */
  readonly rise: number;
  readonly fall: number;
}

/** Trapezoidal pulses in order of time, none over another, with the drive at 0 between them until `end` (s). */
export function pulseDrive(pulses: readonly CorePulse[], end: number): CoreDrive {
  const points: [number, number][] = [[0, 0]];
  for (const p of pulses) {
    const top = p.start + p.rise;
    const off = p.start + p.rise / 2 + p.width - p.fall / 2;
    if (off < top) throw new RangeError('A pulse must be wider than the mean of its rise and fall.');
    points.push([p.start, 0], [top, p.amplitude], [off, p.amplitude], [off + p.fall, 0]);
  }
  if (points[points.length - 1][0] < end) points.push([end, 0]);
  return lineDrive(points);
}

/** A drive as the sum of a constant bias (A, a magnet held to the core) and another drive. */
export const biasDrive = (drive: CoreDrive, bias: number): CoreDrive =>
  drive.map((p) => ({ ...p, at: (t) => p.at(t) + bias }));
