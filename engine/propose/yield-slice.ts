import type { StrobeEnvelope } from '../strobe/envelope.ts';
import type { Box } from './box.ts';
import { roomOf, within, type Reserve, type WeakEnvelope } from './reserve.ts';

/** A reserve that is left where yield is sought at its cost: all that is asked for, and a little for the rounding of values. */
const KEPT = 1.01;
const HALVINGS = 24;

/** Where strobe and threshold belong for yield, and how far cores that are far off lie clear of the threshold there, V. */
export interface YieldSlice extends Reserve {
  readonly clear: number;
}

/**
 * Of the strobes and thresholds at which all that is asked for is there, that from which cores far off are farthest. Its
 * reserve is that of a box about just there. Undefined where nothing does all that is asked for.
 */
export function yieldSlice(
  envelope: StrobeEnvelope,
  weak: WeakEnvelope | undefined,
  box: Box,
  far: WeakEnvelope,
): YieldSlice | undefined {
  const { time } = envelope;
  const room = roomOf(envelope, weak, box, KEPT);
  if (room === undefined) return undefined;
  const { one, zero } = within(far, box.guard / (time[1]! - time[0]!), [room.from, room.to]);
  let best: { readonly at: number; readonly threshold: number; readonly clear: number } | undefined;
  for (let i = room.from; i <= room.to; i++) {
    const [low, high] = [room.low[i]!, room.high[i]!];
    if (low <= 0 || !(high >= low)) continue;
    const threshold = Math.min(high, Math.max(low, (one[i]! + zero[i]!) / 2));
    const clear = Math.min(one[i]! - threshold, threshold - zero[i]!);
    if (best === undefined || clear > best.clear) best = { at: i, threshold, clear };
  }
  if (best === undefined) return undefined;
  const { at, threshold, clear } = best;
  return { strobe: time[at]! + box.delay, threshold, clear, reserve: reserveAt(envelope, weak, box, best) };
}

/** The greatest box about one strobe and threshold. */
function reserveAt(
  envelope: StrobeEnvelope,
  weak: WeakEnvelope | undefined,
  box: Box,
  { at, threshold }: { readonly at: number; readonly threshold: number },
): number {
  let [low, high] = [KEPT, 2 * KEPT];
  for (let i = 0; i < HALVINGS; i++) {
    const k = (low + high) / 2;
    const room = roomOf(envelope, weak, box, k);
    if (room && room.low[at]! <= threshold && threshold <= room.high[at]!) low = k;
    else high = k;
  }
  return low;
}
