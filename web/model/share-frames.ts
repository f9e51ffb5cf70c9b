import type { CoreShares } from '../../engine/solver/result.ts';
import type { TimeSpan } from '../charts/spaces.ts';

/** Instants of a span at which what every core gives is kept, so that the mat follows the clock without a run. */
const FRAMES = 161;

/** s, over a span, none after `end`. */
export const frameInstants = ({ from, to }: TimeSpan, end: number): readonly number[] => [
  ...new Set(
    Array.from({ length: FRAMES }, (_, i) => Math.min(from + ((to - from) * i) / (FRAMES - 1), end)),
  ),
];

/** Of pictures in the order of their times the one nearest to an instant; each says its own time. */
export function nearestFrame(frames: readonly CoreShares[], at: number): CoreShares | undefined {
  let [low, high] = [0, frames.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle]!.time < at) low = middle + 1;
    else high = middle;
  }
  const [before, after] = [frames[low - 1], frames[low]];
  if (!before || !after) return after;
  return at - before.time < after.time - at ? before : after;
}
