import type { Design } from '../design/design.ts';
import type { Requirement } from '../design/requirement.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import type { StrobeEnsemble } from '../strobe/ensemble-result.ts';
import { makeBench, type JudgedSet } from './trials.ts';

/** Values of one input between which a design reads every bit, SI. */
export interface Band {
  readonly low: number;
  readonly high: number;
}

export interface BandAsk {
  /** The value of now and the ends of what is looked at, SI. */
  readonly now: number;
  readonly range: readonly [number, number];
  /** Spaced by equal ratios instead of equal differences. */
  readonly ratio: boolean;
  /** The design with this value; undefined where it is refused. */
  readonly make: (value: number) => Design | undefined;
}

type Simulate = (design: Design, options?: SimulateOptions) => Simulation;
type Says = (part: number) => boolean;

/** Stretches of the range that are looked at by themselves: a hole or a band narrower than one can be missed. */
const PLACES = 8;
/** Part of the range to which an end is told. */
const CLOSE = 1 / 64;

/**
 * Where one input may stand with everything else as it is, so that every bit is read in every case of a set: the margin is
 * not short, and the strobe lies in a window (a strobe that is sought is sought anew). The range is looked over with the few
 * cases that came near to setting the envelopes now; what they let pass is then held against every case of the set. An end
 * is a value at which every case reads, within a 64th of the range of one at which one does not.
 *
 * @param ensemble every case of the design as it is, corners among them
 * @param inside no band is sought beside these: at the corners nothing reads that does not read as designed
 * @param simulate throws to end the work
 */
export function readingBands(
  ensemble: StrobeEnsemble,
  set: JudgedSet,
  ask: BandAsk,
  simulate: Simulate,
  inside?: readonly Band[],
): readonly Band[] {
  const sets = set === 'corners' ? (['nominal', 'corners'] as const) : ([set] as const);
  const bench = makeBench(ensemble.design, ensemble, sets, simulate);
  const scale = scaleOf(ask);
  const counts = (value: number): boolean =>
    inside?.some(({ low, high }) => value >= low * (1 - HAIR) && value <= high * (1 + HAIR)) ?? true;
  const may: Says = remember((part) => {
    const value = scale.valueAt(part);
    const changed = counts(value) ? ask.make(value) : undefined;
    return changed !== undefined && (bench.near(changed)?.every(reads) ?? false);
  });
  const does: Says = remember((part) => {
    const value = scale.valueAt(part);
    const changed = counts(value) ? ask.make(value) : undefined;
    return changed !== undefined && reads(bench.full(changed));
  });
  const ends = (inside ?? []).flatMap(({ low, high }) => [scale.partOf(low), scale.partOf(high)]);
  return stretchesOf([scale.partOf(ask.now), ...ends], may, does).map(([low, high]) => ({
    low: scale.valueAt(low),
    high: scale.valueAt(high),
  }));
}

/** What a value loses on its way to a part and back. */
const HAIR = 1e-9;

/** Parts of the range: 0 at its beginning, 1 at its end. */
function scaleOf({ range: [from, to], ratio }: BandAsk) {
  return {
    partOf: (value: number): number =>
      ratio ? Math.log(value / from) / Math.log(to / from) : (value - from) / (to - from),
    valueAt: (part: number): number => (ratio ? from * (to / from) ** part : from + (to - from) * part),
  };
}

const reads = ({ margin, width }: Requirement): boolean => margin >= 0 && width > 0;

/** First and last part of every stretch that may read and does. `known`: parts to look at beside those of every range, the value of now first. */
function stretchesOf(known: readonly number[], may: Says, does: Says): (readonly [number, number])[] {
  const parts = [...Array.from({ length: PLACES + 1 }, (_, k) => k / PLACES), ...known]
    .filter((part) => part >= 0 && part <= 1)
    .sort((a, b) => a - b);
  const found = runsOf(parts.map(may)).flatMap(([first, last]) => {
    const low = lastYes(may, parts[first]!, parts[first - 1]);
    const high = lastYes(may, parts[last]!, parts[last + 1]);
    const seed = [known[0]!, (low + high) / 2].find((part) => part >= low && part <= high && does(part));
    if (seed === undefined) return [];
    return [[endOf(does, seed, low, -1), endOf(does, seed, high, 1)] as const];
  });
  // Two that grew into each other are one.
  return found
    .filter(([, high], i) => !(found[i + 1] && found[i + 1]![0] <= high))
    .map(([low, high]) => [
      Math.min(low, ...found.filter((each) => each[0] <= high && each[1] >= low).map(([from]) => from)),
      high,
    ]);
}

/** The last part that says yes on the way from `seed`, which does, past `outer`, where it is thought to be. */
function endOf(does: Says, seed: number, outer: number, way: -1 | 1): number {
  if (!does(outer)) return lastYes(does, seed, outer);
  let good = outer;
  for (let step = CLOSE; ; step *= 2) {
    const next = Math.min(1, Math.max(0, good + way * step));
    if (next === good) return good;
    if (!does(next)) return lastYes(does, good, next);
    good = next;
  }
}

/** The last part found that says yes, from one that does towards one that does not. */
function lastYes(says: Says, yes: number, no: number | undefined): number {
  let [good, bad] = [yes, no ?? yes];
  while (Math.abs(bad - good) > CLOSE) {
    const middle = (good + bad) / 2;
    if (says(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** First and last place of every run of yes. */
function runsOf(yes: readonly boolean[]): (readonly [number, number])[] {
  const found: [number, number][] = [];
  yes.forEach((is, i) => {
    if (!is) return;
    if (i > 0 && yes[i - 1]) found.at(-1)![1] = i;
    else found.push([i, i]);
  });
  return found;
}

function remember<T>(work: (part: number) => T): (part: number) => T {
  const known = new Map<number, T>();
  return (part) => {
    if (!known.has(part)) known.set(part, work(part));
    return known.get(part)!;
  };
}
