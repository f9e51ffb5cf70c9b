import { extent, type Samples } from '../../charts/decimate.ts';
import type { TimeSpan, ValueSpan } from '../../charts/spaces.ts';
import { samplesOf, samplesOn, seenSamples } from '../../model/traces.ts';
import type { Fresh, Judged } from './main-data.ts';

/** What the lane of the signal has to show, V: up, and down as a positive size. */
export interface Wanted {
  readonly up: number;
  readonly down: number;
}

/** Rungs of the ladder: 10, 14.1, 20, 28.3, 40 mV and so on. Doubling ones would leave no room to stay on one. */
const RUNG = Math.SQRT2;
const FIRST = 10e-3;
/** A rung is left only when what it holds is more or less of it than this. */
const [LEAST, MOST] = [0.55, 0.95];
/** How far an axis goes to the other side of zero, as shares of its rung: few, so that it keeps still. */
const BEYOND = [0.12, 0.5, 1];

/** V: the rung to stand on. The one before is kept while the signal fills it neither too much nor too little. */
export function rungFor({ up, down }: Wanted, before: number | undefined): number {
  const size = Math.max(up, down, 1e-6);
  if (before !== undefined && size >= LEAST * before && size <= MOST * before) return before;
  // A rung that would be filled to the last digit is not missed by rounding.
  const steps = Math.ceil(Math.log(size / MOST / FIRST) / Math.log(RUNG) - 1e-9);
  return FIRST * RUNG ** steps;
}

/** The axis on a rung: all of it on the side of the signal, of the other one as little as will do. */
export function spanOnRung(rung: number, { up, down }: Wanted): ValueSpan {
  const reach = (size: number): number => rung * (BEYOND.find((share) => size <= share * rung) ?? 1);
  return up >= down ? { low: -reach(down), high: rung } : { low: -rung, high: reach(up) };
}

/** At the latch: the bell and the threshold, and 1.6 times the bell at most, whatever the spikes beside it. */
export function wantedAtLatch({
  judged,
  fresh,
  span,
}: {
  readonly judged: Judged | undefined;
  readonly fresh: Fresh | undefined;
  readonly span: TimeSpan;
}): Wanted {
  // The lines before count too, so that the axis keeps still while worst cases are sought.
  const lines = [
    ...[fresh?.one, fresh?.zero].filter((one) => one !== undefined).map(seenSamples),
    ...(judged ? linesOf(judged) : []),
  ];
  const level = fresh?.design.detector.threshold ?? judged!.strobe.level;
  const one = fresh?.one ?? judged?.run.one;
  return wantedOf(lines, span, level, one && bellOf(one));
}

/** Before the latch, with signs: the same of these lines. `level`: V, the threshold. */
export function wantedSigned(
  lines: readonly Samples[],
  span: TimeSpan,
  level: number,
  one: Judged['run']['one'],
): Wanted {
  return wantedOf(lines, span, level, bellOf(one));
}

function wantedOf(
  lines: readonly Samples[],
  span: TimeSpan,
  level: number,
  bell: number | undefined,
): Wanted {
  const ends = lines.map((samples) => extent(samples, span.from, span.to));
  const high = Math.max(...ends.map((pair) => pair?.[1] ?? 0));
  const low = Math.min(...ends.map((pair) => pair?.[0] ?? 0));
  const most = 1.6 * Math.max(bell ?? high, level / 1.45);
  const [up, down] = [Math.min(high, most), Math.min(Math.max(-low, 0), most)];
  // The threshold is in view on the side to which the signal goes.
  return up >= down ? { up: Math.max(up, 1.1 * level), down } : { up, down: Math.max(down, 1.1 * level) };
}

/** V: the most that the selected core gives in the read. */
function bellOf({ time, contributions, design }: Judged['run']['one']): number {
  const bell = extent(samplesOn(time, contributions!.selectedCore), 0, design.cycle.readWidth);
  return Math.max(Math.abs(bell?.[0] ?? 0), bell?.[1] ?? 0, 1e-4);
}

/** V: how far the lines go beyond the top of what is shown; undefined where all of it is in view. */
export function cutOff(judged: Judged, span: TimeSpan, shown: ValueSpan): number | undefined {
  const top = Math.max(...linesOf(judged).map((samples) => extent(samples, span.from, span.to)?.[1] ?? 0));
  return top > shown.high ? top : undefined;
}

const linesOf = ({ run, strobe: { envelope } }: Judged): Samples[] =>
  [envelope.oneHigh, envelope.zeroLow, envelope.zero].map((values) => samplesOf(run, values));
