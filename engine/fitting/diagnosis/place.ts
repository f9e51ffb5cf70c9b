import type { Trace } from '../align/trace-tools.ts';
import { standing } from '../align/sampled.ts';
import type { Seen } from './seen.ts';

/** Where a prediction lies on a capture: what it is shifted, raised and multiplied by. */
export interface Placed {
  readonly delay: number;
  readonly offset: number;
  readonly gain: number;
  readonly chiSquare: number;
}

/** Shifts about an anchor that are tried, s; the best is halved down to a twentieth of a nanosecond. */
const GRID = Array.from({ length: 13 }, (_, i) => (i - 6) * 8e-9);

/** The delay, with the best offset (and gain) at each, that lays a prediction on a capture. */
export function place(predicted: Trace, s: Seen): Placed {
  const at = (delay: number): Placed => straight(predicted, s, delay);
  const best = (some: readonly Placed[]): Placed =>
    some.reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
  let found = best(s.anchors.flatMap((anchor) => GRID.map((shift) => at(anchor + shift))));
  for (let step = 4e-9; step > 0.05e-9; step /= 2)
    found = best([found, at(found.delay - step), at(found.delay + step)]);
  return found;
}

/** Weighted least squares of offset, and of the gain where it is free. */
function straight(predicted: Trace, s: Seen, delay: number): Placed {
  const { time, value } = s.trace;
  let [w, wx, wy, wxx, wxy, wyy] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < time.length; i++) {
    const x = standing(predicted, time[i] - delay);
    const weight = 1 / s.sigma[i] ** 2;
    w += weight;
    wx += weight * x;
    wy += weight * value[i];
    wxx += weight * x * x;
    wxy += weight * x * value[i];
    wyy += weight * value[i] * value[i];
  }
  const across = wxx - (wx * wx) / w;
  const free = s.freeGain && across > 0 ? (wxy - (wx * wy) / w) / across : 1;
  const gain = free > 0 ? free : 1;
  const offset = (wy - gain * wx) / w;
  const chiSquare =
    wyy + gain * gain * wxx + offset * offset * w - 2 * gain * wxy - 2 * offset * wy + 2 * gain * offset * wx;
  return { delay, offset, gain, chiSquare: Math.max(0, chiSquare) };
}
