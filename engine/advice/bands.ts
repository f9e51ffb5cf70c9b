import type { Design, Requirement } from '../design/design.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import type { StrobeEnsemble } from '../strobe/ensemble.ts';
import { makeBench, type JudgedSet } from './trials.ts';

/** Values of one input between which a design still reads, SI. */
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

/** Stretches of the range that are looked at by themselves: a hole or a band narrower than one can be missed. */
const PLACES = 12;
/** Halvings between a value that reads and one that does not. */
const HALVINGS = 3;

/**
 * Where one input may stand with everything else as it is, so that the design reads in every one of the sets: the margin
 * is not short and the strobe lies in a window (a strobe that is sought is sought anew). The range is looked over with the
 * few cases that set the envelopes now; what they let pass is then held against every case, from a value that reads
 * outward, and an end is told only where every case reads.
 */
export function readingBands(
  ensemble: StrobeEnsemble,
  sets: readonly JudgedSet[],
  simulate: (design: Design, options?: SimulateOptions) => Simulation,
  { now, range, ratio, make }: BandAsk,
): Band[] {
  const bench = makeBench(ensemble.design, ensemble, sets, simulate);
  const [from, to] = range;
  const valueOf = (part: number): number =>
    ratio ? from * (to / from) ** part : from + (to - from) * part;
  const readsWith = (cases: 'setting' | 'all'): ((part: number) => boolean) =>
    remember((part) => {
      const design = make(valueOf(part));
      return design !== undefined && allRead(bench.each(design, cases));
    });
  const [may, does] = [readsWith('setting'), readsWith('all')];
  const own = ratio ? Math.log(now / from) / Math.log(to / from) : (now - from) / (to - from);
  const parts = [...Array.from({ length: PLACES + 1 }, (_, k) => k / PLACES), own]
    .filter((part) => part >= 0 && part <= 1)
    .sort((a, b) => a - b);
  return stretches(parts.map(may)).flatMap(([first, last]) => {
    const low = lastYes(may, parts[first]!, parts[first - 1]);
    const high = lastYes(may, parts[last]!, parts[last + 1]);
    const seed = [own, (low + high) / 2].find((part) => part >= low && part <= high && does(part));
    if (seed === undefined) return [];
    const end = (outer: number): number => valueOf(does(outer) ? outer : lastYes(does, seed, outer));
    return [{ low: end(low), high: end(high) }];
  });
}

/** The last part found that says yes, from one that does towards one that does not. */
function lastYes(says: (part: number) => boolean, yes: number, no: number | undefined): number {
  let [good, bad] = [yes, no ?? yes];
  for (let n = 0; n < HALVINGS && bad !== good; n++) {
    const middle = (good + bad) / 2;
    if (says(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

const allRead = (each: readonly Requirement[] | undefined): boolean =>
  each !== undefined && each.every(({ margin, width }) => margin >= 0 && width > 0);

/** First and last place of every run of yes. */
function stretches(yes: readonly boolean[]): (readonly [number, number])[] {
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
