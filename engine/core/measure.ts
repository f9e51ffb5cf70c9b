import type { CoreTrace } from './single.ts';

/** What a bench reads off the answer of one core to one drive pulse. */
export interface AnswerReading {
  /** V, magnitude of the peak of the bell (the greatest EMF from the end of the rise on). */
  readonly peak: number;
  /** s from the start of the rise to that peak. */
  readonly peakTime: number;
  /** s from the start of the rise to a tenth of the peak on the fall; NaN when the trace ends before. */
  readonly switchTime: number;
  /** V at the end of the rise, just before its corner: what the edge itself induces. */
  readonly edge: number;
}

/** Vertex of the parabola through three samples: [time, value]. */
function vertex(time: Float64Array, y: Float64Array, k: number): [number, number] {
  const [a, b, c] = [time[k - 1] - time[k], time[k + 1] - time[k], y[k]];
  const [ya, yb] = [y[k - 1] - c, y[k + 1] - c];
  const q = (ya / a - yb / b) / (a - b);
  const m = ya / a - q * a;
  if (!(q !== 0) || !Number.isFinite(q)) return [time[k], c];
  const t = -m / (2 * q);
  return t < a || t > b ? [time[k], c] : [time[k] + t, c + (m * t) / 2];
}

/**
 * Read peak, peak time and switching time off a trace. `start` and `rise` (s) place the drive's edge, `end` (s) is
 * where its flat top ends. The sign of the answer is that of the drive, so reads and writes measure alike.
 */
export function readAnswer(trace: CoreTrace, start: number, rise: number, end: number): AnswerReading {
  const { time, drive } = trace;
  let first = 0;
  while (first < time.length && time[first] < start + rise) first++;
  // At the end of the rise two samples stand at one time; the bell is read from the right-hand one on.
  if (first + 1 < time.length && time[first + 1] === time[first]) first++;
  const sign = drive[first] < 0 ? -1 : 1;
  const y = trace.emf.map((v) => sign * v);
  let top = first;
  let last = first;
  for (let k = first; k < time.length && last === first; k++) {
    if (y[k] > y[top]) top = k;
    // The first of the two samples at the end of the flat top: the next one already belongs to the fall.
    if (time[k] >= end || k === time.length - 1) last = k;
  }
  const [tP, peak] = top > first && top < last ? vertex(time, y, top) : [time[top], y[top]];
  let switchTime = Number.NaN;
  for (let k = top + 1; k <= last; k++) {
    if (y[k] > 0.1 * peak) continue;
    const f = (y[k - 1] - 0.1 * peak) / (y[k - 1] - y[k]);
    switchTime = time[k - 1] + f * (time[k] - time[k - 1]) - start;
    break;
  }
  return { peak, peakTime: tP - start, switchTime, edge: rise > 0 ? y[first - 1] : Number.NaN };
}
