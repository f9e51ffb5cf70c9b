import { nameCase } from './case-overrides.ts';
import { makeCaseRuns } from './case-runs.ts';
import type { CaseRuns, EnsembleCase, FailedCase } from './case-runs.ts';
import { caseSpace, CORNER_SIGMAS, quickCases } from './cases.ts';
import { findBestPair } from './best-pair.ts';
import { buildEnvelope, definingCases, followedUntil, seenEnvelope, strobeSearch, strobeUncertainties } from './envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { findOpening } from './intervals.ts';
import { referParts } from './parts.ts';
import type { ReferredParts } from './parts.ts';
import { rateEnvelopes, rateSpecs } from './rates.ts';
import type { RateEnvelope } from './rates.ts';
import { windowAt } from './window-at.ts';
import type { BestPair, StrobeWindow } from './window-result.ts';
import { searchCases } from './worst-case.ts';
import type { CaseSearch } from './worst-case.ts';
import type { Design } from '../design/design.ts';
import { wirePath } from '../mat/winding.ts';
import { chooseSections } from '../network/sections.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';

export interface EnsembleOptions {
  /** Computes one run. */
  readonly simulate: (design: Design, options?: SimulateOptions) => Simulation;
  /**
   * 'quick': patterns and disturb states, and a bit just written. 'full' (default): the worst of all patterns, disturb
   * states, histories and addresses together; the worst of all of them at all corners of drive, supply and temperature,
   * which with wider uncertainties of threshold and strobe make an envelope of their own; and other cycle rates.
   */
  readonly cases?: 'quick' | 'full';
  /** Follow every run to the end of the cycle, for the eye; the strobe is sought before the write alone (default). */
  readonly wholeCycle?: boolean;
  readonly cancelled?: () => boolean;
}

/** Everything about a design's strobe that does not change when strobe or threshold is moved. */
export interface StrobeEnsemble {
  readonly design: Design;
  readonly envelope: StrobeEnvelope;
  /** The same as the latch sees it: one detector delay later. */
  readonly seen: StrobeWindow['envelope'];
  readonly uncertainties: StrobeUncertainties;
  readonly opening: StrobeWindow['opening'];
  readonly bestPair: BestPair | undefined;
  readonly cases: readonly EnsembleCase[];
  /** The same with the corners; undefined for quick ones. */
  readonly corners: Pick<StrobeEnsemble, 'envelope' | 'uncertainties' | 'bestPair'> | undefined;
  /** The nominal envelope when cycles follow each other faster; empty for quick ones. */
  readonly rates: readonly RateEnvelope[];
  /** Contributions of the cases that set the least ONE and the greatest ZERO at the strobe in force. */
  readonly worst: { readonly one: ReferredParts; readonly zero: ReferredParts };
  /** V at the envelope's times: error of the runs that set it, by companion runs; undefined for quick ones. */
  readonly numbers: Float64Array | undefined;
  readonly failed: readonly FailedCase[];
}

/** The runs of a design, or the run that failed when no ONE or no ZERO was left. */
export function runEnsemble(
  design: Design,
  options: EnsembleOptions,
): StrobeEnsemble | { readonly failed: FailedCase } {
  const full = options.cases !== 'quick';
  const search = strobeSearch(design);
  // The baseline depends on the cycles before all the cases alike: found once, with the design's own pattern.
  const coupling = repetitionCoupling(design, options.simulate);
  const until = options.wholeCycle === true ? undefined : followedUntil(design);
  const runs = makeCaseRuns(design, options.simulate, { coupling, until, cancelled: options.cancelled });
  for (const spec of quickCases(design)) runs.add(spec);
  const { time } = runs;
  if (time === undefined || new Set(runs.cases.map((c) => c.bit)).size < 2)
    return { failed: runs.failed[0]! };

  const uncertainties = strobeUncertainties(design);
  if (full) {
    const searches = caseSearches(design, runs, time);
    const nominal = searches.map((search) => search.free(false));
    addWorst(nominal, () => instants(design, nominalEnvelope(runs, time, search), uncertainties));
    const { one, zero } = worstCases();
    for (const spec of rateSpecs(design, one.spec, zero.spec)) runs.add(spec);
    const strobe = strobeInForce(design, nominalEnvelope(runs, time, search), uncertainties);
    addWorst(searches, () => {
      const { envelope, uncertainties: wide } = cornerEnvelope(design, runs, time, search);
      return instants(withStrobe(design, strobe), envelope, wide);
    });
  }
  const envelope = nominalEnvelope(runs, time, search);
  const worst = worstCases();
  const split = ({ overrides }: EnsembleCase): ReferredParts =>
    referParts(runs.simulate(overrides, { contributions: true }));
  return {
    design,
    envelope,
    seen: seenEnvelope(envelope, uncertainties.delay),
    uncertainties,
    opening: findOpening(envelope, uncertainties),
    bestPair: findBestPair(envelope, uncertainties),
    rates: full ? fasterEnvelopes() : [],
    cases: runs.cases,
    corners: full ? cornerEnvelope(design, runs, time, search) : undefined,
    worst: { one: split(worst.one), zero: split(worst.zero) },
    numbers: full ? ownError() : undefined,
    failed: runs.failed,
  };

  /** The nominal cases that set the envelope at the strobe in force. */
  function worstCases(): { readonly one: EnsembleCase; readonly zero: EnsembleCase } {
    const nominal = nominalEnvelope(runs, time!, search);
    const strobe = strobeInForce(design, nominal, uncertainties) - uncertainties.delay;
    const { one, zero } = definingCases(nominal, strobe);
    const among = runs.cases.filter((c) => !c.corner);
    return { one: among[one]!, zero: among[zero]! };
  }

  /** The worst ONE and ZERO again with steps and sections twice as coarse: how far they differ, the greater of the two. */
  function ownError(): Float64Array | undefined {
    const sections = Math.ceil(chooseSections(design, wirePath(design).order.length) / 2);
    const differences = [worst.one, worst.zero].map(({ name, overrides, referred }) => {
      const coarse = { ...overrides, numerics: { ...overrides.numerics, sections } };
      return runs
        .refer(name, runs.simulate(coarse, { refine: 0.5 }))
        ?.map((value, i) => Math.abs(value - referred[i]!));
    });
    const [one, zero] = differences;
    return one && zero && one.map((value, i) => Math.max(value, zero[i]!));
  }

  function fasterEnvelopes(): RateEnvelope[] {
    return rateEnvelopes(design, runs.cases, [worst.one.spec, worst.zero.spec], time!, search, {
      simulate: options.simulate,
      trace: (spec, overrides, own) => {
        const name = nameCase(spec);
        const referred = runs.refer(name, runs.simulate(overrides, { coupling: own }));
        return referred && { name, bit: spec.bit, referred };
      },
    });
  }
}

const nominalEnvelope = (
  { cases }: CaseRuns,
  time: Float64Array,
  search: StrobeEnvelope['search'],
): StrobeEnvelope =>
  buildEnvelope(
    time,
    cases.filter((c) => !c.corner),
    search,
  );

/** All cases at all corners, of a moved supply in parts of the moved threshold. */
function cornerEnvelope(
  design: Design,
  { cases }: CaseRuns,
  time: Float64Array,
  search: StrobeEnvelope['search'],
): NonNullable<StrobeEnsemble['corners']> {
  const heard = cases.map(({ name, bit, heard: referred }) => ({ name, bit, referred }));
  const envelope = buildEnvelope(time, heard, search);
  const uncertainties = withCorners(design);
  return { envelope, uncertainties, bestPair: findBestPair(envelope, uncertainties) };
}

type Searches = readonly CaseSearch[];

/** For a ONE and for a ZERO: the whole product of cases, with those that were run already. Targets are signal times, s. */
function caseSearches(design: Design, runs: CaseRuns, time: Float64Array): Searches {
  const { patterns, histories, addresses, corners } = caseSpace(design);
  const sizes = [patterns.length, histories.length, addresses.length, corners.length];
  const own = patterns.flatMap((_, p) =>
    histories.flatMap(({ previous }, h) => (previous === undefined ? [[p, h, 0, 0]] : [])),
  );
  return ([1, 0] as const).map((bit) =>
    searchCases(sizes, own, ([p, h, a, c]) => {
      const found = runs.add({
        bit,
        ...patterns[p!]!,
        ...histories[h!]!,
        ...addresses[a!]!,
        ...corners[c!]!,
      });
      const sign = bit === 1 ? -1 : 1;
      return (t) => (found ? sign * valueAt(time, found.heard, t) : -Infinity);
    }),
  );
}

/** Rounds in which the instants that count may move with what was found. */
const ROUNDS = 3;

/** Runs cases until those that are worst at the instants that count, the strobe first, are among them. */
function addWorst(searches: Searches, targets: () => readonly number[]): void {
  let before: readonly number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const now = targets();
    if (now.every((t, i) => t === before[i])) return;
    const [strobe, ...edges] = now;
    for (const search of searches) {
      search.settle(strobe!);
      for (const edge of edges) search.follow(edge);
    }
    before = now;
  }
}

/** Signal times that decide a window: at the strobe in force and, where it lies in an interval that passes, at its edges. */
function instants(
  design: Design,
  envelope: StrobeEnvelope,
  uncertainties: StrobeUncertainties,
): readonly number[] {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { inForce, distance } = windowAt(envelope, at, uncertainties);
  const { delay, guard } = uncertainties;
  const strobe = inForce.time - delay;
  return distance ? [strobe, strobe - distance.toStart - guard, strobe + distance.toEnd + guard] : [strobe];
}

const withStrobe = (design: Design, time: number): Design => ({
  ...design,
  strobe: { ...design.strobe, time },
});

function strobeInForce(design: Design, envelope: StrobeEnvelope, uncertainties: StrobeUncertainties): number {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return at.time ?? windowAt(envelope, at, uncertainties).inForce.time;
}

/** Corners of threshold and strobe are uncertainties of where they are, not runs. */
function withCorners(design: Design): StrobeUncertainties {
  const stated = strobeUncertainties(design);
  const { threshold, strobe } = design.tolerances;
  return {
    ...stated,
    threshold: stated.threshold + CORNER_SIGMAS * threshold * Math.abs(design.detector.threshold),
    guard: stated.guard + CORNER_SIGMAS * strobe,
  };
}
