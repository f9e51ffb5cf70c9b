import type { StrobeEnvelope } from '../strobe/envelope.ts';
import type { Box } from './box.ts';

/** How much of what is asked for there is, and where strobe (s) and threshold (V) belong. */
export interface Reserve {
  /** 1 is just what is asked for; under 0 the least ONE lies under the greatest ZERO. */
  readonly reserve: number;
  readonly strobe: number;
  readonly threshold: number;
}

/** Weak cores beside the envelope: the first box without the margin that is asked for must clear them too. */
export type WeakEnvelope = Pick<StrobeEnvelope, 'one' | 'zero'>;

const HALVINGS = 24;
const MOST_RESERVE = 8;
/** The reserve of what gives no traces to judge: worse than any that does. */
export const NOTHING = -10;

/**
 * The greatest k at which both boxes lie between least ONE and greatest ZERO. Exact but for the sampling of the traces,
 * between which they are taken as straight. Where nothing opens it is the separation over twice the bare height, which
 * is continuous, so that a search knows which way to go.
 */
export function reserveOf(envelope: StrobeEnvelope, weak: WeakEnvelope | undefined, box: Box): Reserve {
  let best = closest(envelope, weak, box);
  if (best.reserve < 0) return best;
  let [low, high] = [0, MOST_RESERVE];
  for (let i = 0; i < HALVINGS; i++) {
    const k = (low + high) / 2;
    const found = fits(envelope, weak, box, k);
    if (found === undefined) high = k;
    else {
      low = k;
      best = { reserve: k, ...found };
    }
  }
  return best;
}

/** Between which thresholds both boxes of a size lie clear, V, at each sample at which a strobe may be; `low` over `high`: none. */
export interface Room {
  readonly from: number;
  readonly to: number;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Undefined where what is not known of a threshold grows with it as fast as the threshold itself. */
export function roomOf(
  envelope: StrobeEnvelope,
  weak: WeakEnvelope | undefined,
  box: Box,
  k: number,
): Room | undefined {
  const { time, search } = envelope;
  const step = time[1]! - time[0]!;
  const room = k * (box.width - box.guard);
  if (k * box.share >= 1) return undefined;
  const range = [
    Math.max(0, Math.floor((search.start + room - box.delay - time[0]!) / step)),
    Math.min(time.length - 1, Math.ceil((search.end - room - box.delay - time[0]!) / step)),
  ] as const;
  const grown = (of: WeakEnvelope, reach: number): WeakEnvelope => within(of, (k * reach) / step, range);
  const boxes = [
    { ...grown(envelope, box.guard), height: box.constant },
    { ...grown(envelope, box.width), height: box.bare },
    ...(weak ? [{ ...grown(weak, box.guard), height: box.bare }] : []),
  ];
  const low = new Float64Array(time.length).fill(Infinity);
  const high = new Float64Array(time.length);
  for (let i = range[0]; i <= range[1]; i++) {
    const strobe = time[i]! + box.delay;
    if (strobe - room < search.start || strobe + room > search.end) continue;
    low[i] = 0;
    high[i] = Infinity;
    for (const { one, zero, height } of boxes) {
      low[i] = Math.max(low[i]!, (zero[i]! + k * height) / (1 - k * box.share));
      high[i] = Math.min(high[i]!, (one[i]! - k * height) / (1 + k * box.share));
    }
  }
  return { from: range[0], to: range[1], low, high };
}

/** The instant and threshold at which the box of size k fits with the most room, or undefined. */
export function fits(
  envelope: StrobeEnvelope,
  weak: WeakEnvelope | undefined,
  box: Box,
  k: number,
): Pick<Reserve, 'strobe' | 'threshold'> | undefined {
  const room = roomOf(envelope, weak, box, k);
  if (room === undefined) return undefined;
  let best: { room: number; strobe: number; threshold: number } | undefined;
  for (let i = room.from; i <= room.to; i++) {
    const [low, high] = [room.low[i]!, room.high[i]!];
    if (low <= 0 || !(high >= low)) continue;
    if (best === undefined || high - low > best.room)
      best = { room: high - low, strobe: envelope.time[i]! + box.delay, threshold: (low + high) / 2 };
  }
  return best;
}

/** The worst of either within so many samples either way. */
export const within = (
  { one, zero }: WeakEnvelope,
  reach: number,
  range: readonly [number, number],
): WeakEnvelope => ({
  one: worstWithin(one, reach, -1, range),
  zero: worstWithin(zero, reach, 1, range),
});

/**
 * The greatest (sign 1) or least (sign -1) of a trace within so many samples either way, straight between samples; only
 * from sample `from` to `to`. A sample that a later one outdoes is never the worst again, so each is looked at once: this
 * is the innermost part of every judgement.
 */
function worstWithin(
  values: Float64Array,
  reach: number,
  sign: 1 | -1,
  [from, to]: readonly [number, number],
): Float64Array {
  const whole = Math.floor(reach);
  const rest = reach - whole;
  const last = values.length - 1;
  const at = (i: number): number => sign * values[i < 0 ? 0 : i > last ? last : i]!;
  const found = new Float64Array(values.length);
  // Samples of the window that none after them outdoes, the worst first.
  const line = new Int32Array(values.length);
  let [head, tail, next] = [0, 0, Math.max(0, from - whole)];
  for (let i = from; i <= to; i++) {
    for (; next <= Math.min(last, i + whole); next++) {
      while (tail > head && at(line[tail - 1]!) <= at(next)) tail--;
      line[tail++] = next;
    }
    while (line[head]! < i - whole) head++;
    const [before, after] = [at(i - whole), at(i + whole)];
    const worst = Math.max(
      at(line[head]!),
      before + rest * (at(i - whole - 1) - before),
      after + rest * (at(i + whole + 1) - after),
    );
    found[i] = sign * worst;
  }
  return found;
}

/** The greatest separation at one instant, over twice the bare height. */
function closest(envelope: StrobeEnvelope, weak: WeakEnvelope | undefined, box: Box): Reserve {
  const { time, search } = envelope;
  let best: Reserve = {
    reserve: NOTHING,
    strobe: (search.start + search.end) / 2,
    threshold: box.constant,
  };
  for (let i = 0; i < time.length; i++) {
    const strobe = time[i]! + box.delay;
    if (strobe < search.start || strobe > search.end) continue;
    const one = Math.min(envelope.one[i]!, weak?.one[i] ?? Infinity);
    const zero = Math.max(envelope.zero[i]!, weak?.zero[i] ?? -Infinity);
    const threshold = (one + zero) / 2;
    const reserve = (one - zero) / (2 * (box.constant + box.share * Math.max(0, threshold)));
    if (reserve > best.reserve) best = { reserve, strobe, threshold: Math.max(0.1e-3, threshold) };
  }
  return best;
}
