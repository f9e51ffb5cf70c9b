import { atTemperature } from '../core/model.ts';
import { quickRead } from '../core/quick-read.ts';
import { restState } from '../core/state.ts';
import type { Design } from '../design/design.ts';
import { warmCurrents } from '../drive/at-temperature.ts';
import { measuredPulse } from '../drive/measured-pulse.ts';
import { pulseInstants } from '../drive/programme.ts';

/** Parts of the time that a single core takes to its peak between which that of a mat is looked for. */
const [EARLY, LATE] = [0.6, 1.7];

/** s from the start of read: between which instants a ONE's bell has its top; what edges couple is over or smaller there. */
export function bellWithin(design: Design): { readonly start: number; readonly end: number } {
  const at = pulseInstants(design);
  const riseOf = (name: 'x' | 'y'): number => {
    const { read, rise } = design.drive[name];
    return read === undefined ? rise : measuredPulse(read).rise;
  };
  const later = at.x.readOn > at.y.readOn ? 'x' : 'y';
  const rise = riseOf(later);
  const begins = at[later].readOn - rise / 2;
  const p = atTemperature(design.core.parameters, design.temperature);
  const { peakTime } = quickRead(p, restState(p, 0), warmCurrents(design).fullRead, rise);
  const end = Math.min(at.x.readOff, at.y.readOff);
  if (!Number.isFinite(peakTime)) return { start: begins + rise, end };
  return { start: begins + EARLY * peakTime, end: Math.min(end, begins + LATE * peakTime) };
}

/**
 * Top of the bell and when: the greatest of the tops of |u| between two instants, by the parabola through three samples.
 * What the edges leave falls from the start on and has none.
 */
export function topOfBell(
  time: Float64Array,
  trace: Float64Array,
  { start, end }: { readonly start: number; readonly end: number },
): { readonly peak: number; readonly peakTime: number } {
  const height = (i: number): number => Math.abs(trace[i]!);
  let k = -1;
  let most = -1;
  for (let i = 1; i < trace.length - 1; i++) {
    if (time[i]! < start || time[i]! > end) continue;
    if (most < 0 || height(i) > height(most)) most = i;
    const top = height(i) >= height(i - 1) && height(i) > height(i + 1);
    if (top && (k < 0 || height(i) > height(k))) k = i;
  }
  if (most < 0) return { peak: Number.NaN, peakTime: Number.NaN };
  if (k < 0) return { peak: height(most), peakTime: time[most]! };
  const [a, b, c] = [height(k - 1), height(k), height(k + 1)];
  const off = (a - c) / (2 * (a - 2 * b + c));
  return { peak: b - ((a - c) * off) / 4, peakTime: time[k]! + off * (time[1]! - time[0]!) };
}
