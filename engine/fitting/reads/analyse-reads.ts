import type { Design } from '../../design/design.ts';
import { valueAt as valueIn } from '../../sense-amplifier/detector.ts';
import { standardDeviation, wilsonInterval, type Interval } from '../../numerics/statistics.ts';
import { strobeWindow } from '../../strobe/strobe-window.ts';
import { readOf } from '../align/line-up.ts';
import { traceNoise, type Trace } from '../align/trace-tools.ts';
import { simulate as realSimulate } from '../../simulate/simulate.ts';
import { FitError, type Simulate } from '../bench-runs.ts';
import { bandOf, bestPair, halvesOf, wrongAt, type Band, type HeardReads } from './best-strobe.ts';
import { commonTimes, hearRead, restOf, type ReadsPlace } from './hear-reads.ts';
import { placeReads } from './place-reads.ts';
import type { ReadsRequest } from './reads-request.ts';
import { readValues, type ReadValues } from './read-values.ts';

/** A strobe and a threshold, and what they make of reads. Times in s from the start of read, V at the sense wire. */
export interface JudgedPair {
  readonly time: number;
  readonly threshold: number;
  /** Of `count` reads that had no part in choosing it, how many it takes for the wrong bit, and the 95 % interval of that chance. */
  readonly wrong: number;
  readonly count: number;
  readonly chance: Interval;
}

/** What many reads say, beside what the design predicts. */
export interface ReadsAnswer {
  readonly place: ReadsPlace;
  /** V: how far reads differ in where they rest, and what noise alone would make of it. */
  readonly rests: { readonly spread: number; readonly byNoise: number };
  readonly time: Float64Array;
  readonly one: Band;
  readonly zero: Band;
  readonly reads: HeardReads;
  /** Chosen on every other read, judged on the rest. */
  readonly best: JudgedPair;
  /** The design's own strobe and threshold (the best predicted where it gives none), judged on all reads. */
  readonly inForce: JudgedPair;
  /** At the best pair's strobe, the reads that had no part in choosing it: those that had lie too well there. */
  readonly ones: ReadValues;
  readonly zeros: ReadValues;
  /** V: what the design predicts there for its worst nominal cases, and its own best pair. */
  readonly predicted: {
    readonly leastOne: number;
    readonly greatestZero: number;
    readonly time: number;
    readonly threshold: number;
  };
}

/** Reads of each bit that are needed. */
const LEAST = 10;

/**
 * Many reads at once: how they spread, where strobe and threshold part them best, and how often that errs.
 * @param simulate runs the model (default: as ever); whoever counts runs gives his own
 * @throws DesignError, LineUpError; FitError for too few reads, or a capture that is not usable
 */
export function analyseReads(request: ReadsRequest, simulate: Simulate = realSimulate): ReadsAnswer {
  const { ones, zeros, observed = 'sense', content = 0.999 } = request;
  for (const [name, some] of [['ONE', ones] as const, ['ZERO', zeros] as const])
    if (some.length < LEAST)
      throw new FitError(
        '/reads',
        `Many reads need at least ${LEAST} of a ${name}; received ${some.length}: give more files or a segmented one.`,
      );
  const { design, place } = placeReads(request);
  const all = [...ones, ...zeros];
  const time = commonTimes(all, place.delay, readOf(design).to);
  if (time.length < 10)
    throw new FitError(
      '/reads',
      'The reads share fewer than 10 samples after the start of read: they must be recorded on one trigger and over one span.',
    );
  const hear = (read: Trace): Float64Array => hearRead(design, read, place, time, observed);
  const reads = { time, ones: ones.map(hear), zeros: zeros.map(hear) };
  const [chosenOn, rest] = halvesOf(reads);
  const best = bestPair(chosenOn);
  const at = (some: readonly Float64Array[]): number[] => some.map((read) => read[best.at]);
  return {
    place,
    rests: restsOf(all, place.delay),
    time,
    one: bandOf(reads.ones),
    zero: bandOf(reads.zeros),
    reads,
    best: judged(rest, best, design),
    ...besideWindow(design, reads, best.at, simulate),
    ones: readValues(at(rest.ones), 'above', content),
    zeros: readValues(at(rest.zeros), 'below', content),
  };
}

/** The latch sees what was heard one detector delay before. */
function judged(
  reads: HeardReads,
  pair: { readonly at: number; readonly threshold: number },
  { detector }: Design,
): JudgedPair {
  const count = reads.ones.length + reads.zeros.length;
  const wrong = wrongAt(reads, pair);
  return {
    time: reads.time[pair.at] + detector.delay,
    threshold: pair.threshold,
    wrong,
    count,
    chance: wilsonInterval(wrong, count),
  };
}

function besideWindow(
  design: Design,
  reads: HeardReads,
  at: number,
  simulate: Simulate,
): Pick<ReadsAnswer, 'inForce' | 'predicted'> {
  const window = strobeWindow(design, { cases: 'nominal', simulate });
  const { time, one, zero } = window.envelope;
  const strobe = reads.time[at] + design.detector.delay;
  const { inForce } = window;
  const wanted = inForce.time - design.detector.delay;
  const nearest = reads.time.reduce(
    (k, t, i) => (Math.abs(t - wanted) < Math.abs(reads.time[k] - wanted) ? i : k),
    0,
  );
  return {
    inForce: { ...judged(reads, { at: nearest, threshold: inForce.threshold }, design), time: inForce.time },
    predicted: {
      leastOne: valueIn(time, one, strobe),
      greatestZero: valueIn(time, zero, strobe),
      time: window.bestPair?.time ?? inForce.time,
      threshold: window.bestPair?.threshold ?? inForce.threshold,
    },
  };
}

function restsOf(reads: readonly Trace[], delay: number): ReadsAnswer['rests'] {
  const rests = reads.map((read) => restOf(read, delay));
  const before = reads[0].time.filter((t) => t < delay).length;
  const noise = traceNoise(reads[0].value).sigma;
  return { spread: standardDeviation(rests), byNoise: (1.25 * noise) / Math.sqrt(Math.max(1, before)) };
}
