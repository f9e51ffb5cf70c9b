import { applyOverrides, describeCase, nameCase, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { Design } from '../design/design.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { Outcome, SimulateOptions, Simulation } from '../solver/result.ts';
import { combineCases, CORNER_SIGMAS, cornersOf, patternCases, variationsOf, writtenCases } from './cases.ts';
import { findBestPair } from './best-pair.ts';
import { buildEnvelope, definingCases, seenEnvelope, strobeSearch, strobeUncertainties } from './envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { findOpening } from './intervals.ts';
import { referParts } from './parts.ts';
import { rateEnvelopes, rateSpecs } from './rates.ts';
import type { RateEnvelope } from './rates.ts';
import type { ReferredParts } from './parts.ts';
import { chooseSections } from '../network/sections.ts';
import { wirePath } from '../mat/winding.ts';
import { windowAt } from './window-at.ts';
import type { BestPair, CaseOverrides, StrobeWindow } from './window-result.ts';

export interface EnsembleOptions {
  /** Computes one run. */
  readonly simulate: (design: Design, options?: SimulateOptions) => Simulation;
  /**
   * 'quick': patterns and disturb states, and a bit just written. 'full' (default): goes on from the worst of those to
   * other addresses and the cycle before, one at a time and then what made it worse together; to the corners of drive,
   * supply and temperature, which with wider uncertainties of threshold and strobe make an envelope of their own; and
   * to other cycle rates.
   */
  readonly cases?: 'quick' | 'full';
  /** Follow every run to the end of the cycle, for the eye; the strobe is sought before the write alone (default). */
  readonly wholeCycle?: boolean;
  readonly cancelled?: () => boolean;
}

export interface EnsembleCase {
  readonly spec: CaseSpec;
  readonly name: string;
  readonly pattern: string;
  readonly bit: 0 | 1;
  readonly overrides: CaseOverrides;
  readonly referred: Float64Array;
  readonly corner: boolean;
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

export interface FailedCase {
  readonly name: string;
  readonly outcome: Outcome;
}

/** The runs of a design, or the run that failed when no ONE or no ZERO was left. */
export function runEnsemble(
  design: Design,
  options: EnsembleOptions,
): StrobeEnsemble | { readonly failed: FailedCase } {
  const full = options.cases !== 'quick';
  const search = strobeSearch(design);
  const cases: EnsembleCase[] = [];
  const failed: FailedCase[] = [];
  let time: Float64Array | undefined;
  // The baseline depends on the cycles before all the cases alike: found once, with the design's own pattern.
  const coupling = repetitionCoupling(design, options.simulate);
  const how = (own: number): SimulateOptions => ({
    contributions: false,
    estimateError: false,
    balance: false,
    coupling: own,
    until: options.wholeCycle === true ? undefined : search.end + design.detector.delay,
    cancelled: options.cancelled,
  });
  const simulateCase = (overrides: CaseOverrides, contributions: boolean, own = coupling): Simulation =>
    options.simulate(applyOverrides(design, overrides), { ...how(own), contributions });
  const record = (name: string, run: Simulation): Float64Array | undefined => {
    if (run.outcome.kind !== 'done') {
      failed.push({ name, outcome: run.outcome });
      return undefined;
    }
    const scale = 1 / (run.design.amplifier.divider * run.design.amplifier.gain);
    time ??= run.time;
    return run.amplifierOutput.map((value) => value * scale);
  };
  const add = (spec: CaseSpec, corner = false): EnsembleCase | undefined => {
    const name = nameCase(spec);
    const known = cases.find((c) => c.name === name);
    if (known) return known;
    const overrides = overridesOf(design, spec);
    const referred = record(name, simulateCase(overrides, false));
    if (referred === undefined) return undefined;
    const made = { spec, name, pattern: describeCase(spec), bit: spec.bit, overrides, referred, corner };
    cases.push(made);
    return made;
  };

  for (const spec of [...patternCases(design), ...writtenCases()]) add(spec);
  if (time === undefined || new Set(cases.map((c) => c.bit)).size < 2) return { failed: failed[0] };
  const times = time;
  const uncertainties = strobeUncertainties(design);
  const nominal = (): StrobeEnvelope =>
    buildEnvelope(
      times,
      cases.filter((c) => !c.corner),
      search,
    );
  let envelope = nominal();
  if (full) {
    const at = strobeInForce(design, envelope, uncertainties) - uncertainties.delay;
    for (const bit of [1, 0] as const) widen(bit, at);
    envelope = nominal();
    const { one, zero } = worstCases();
    for (const spec of rateSpecs(design, one.spec, zero.spec)) add(spec);
    envelope = nominal();
  }
  const worst = worstCases();
  const rates = full ? fasterEnvelopes() : [];
  if (full)
    for (const { spec } of [worst.one, worst.zero])
      for (const corner of cornersOf(design, spec)) add(corner, true);

  const split = ({ overrides }: EnsembleCase): ReferredParts => referParts(simulateCase(overrides, true));
  return {
    design,
    envelope,
    seen: seenEnvelope(envelope, uncertainties.delay),
    uncertainties,
    opening: findOpening(envelope, uncertainties),
    bestPair: findBestPair(envelope, uncertainties),
    cases,
    corners: full ? cornerEnvelope() : undefined,
    rates,
    worst: { one: split(worst.one), zero: split(worst.zero) },
    numbers: full ? ownError() : undefined,
    failed,
  };

  /** The worst ONE and ZERO again with steps and sections twice as coarse: how far they differ, the greater of the two. */
  function ownError(): Float64Array | undefined {
    const sections = Math.ceil(chooseSections(design, wirePath(design).order.length) / 2);
    const coarse = { ...design, numerics: { ...design.numerics, sections } };
    const differences = [worst.one, worst.zero].map(({ name, overrides, referred }) => {
      const run = options.simulate(applyOverrides(coarse, overrides), { ...how(coupling), refine: 0.5 });
      return record(name, run)?.map((value, i) => Math.abs(value - referred[i]!));
    });
    const [one, zero] = differences;
    return one && zero && one.map((value, i) => Math.max(value, zero[i]!));
  }

  /** The nominal cases that set the envelope at the strobe in force. */
  function worstCases(): { readonly one: EnsembleCase; readonly zero: EnsembleCase } {
    const strobe = strobeInForce(design, envelope, uncertainties) - uncertainties.delay;
    const { one, zero } = definingCases(envelope, strobe);
    const among = cases.filter((c) => !c.corner);
    return { one: among[one], zero: among[zero] };
  }

  function fasterEnvelopes(): RateEnvelope[] {
    const { simulate } = options;
    return rateEnvelopes(design, cases, [worst.one.spec, worst.zero.spec], times, search, {
      simulate,
      trace: (spec, overrides, own) => {
        const name = nameCase(spec);
        const referred = record(name, simulateCase(overrides, false, own));
        return referred && { name, bit: spec.bit, referred };
      },
    });
  }

  /** Other addresses and histories of the worst case so far, then everything that made it worse together. */
  function widen(bit: 0 | 1, at: number): void {
    const worstOf = (among: readonly EnsembleCase[]): EnsembleCase =>
      among.reduce((worst, c) => {
        const difference = valueAt(times, c.referred, at) - valueAt(times, worst.referred, at);
        return (bit === 1 ? difference < 0 : difference > 0) ? c : worst;
      });
    const base = worstOf(cases.filter((c) => c.bit === bit));
    const chosen: CaseSpec[] = [];
    for (const group of variationsOf(design, base.spec)) {
      const run = group.map((spec) => add(spec)).filter((c) => c !== undefined);
      const worst = worstOf([base, ...run]);
      if (worst !== base) chosen.push(worst.spec);
    }
    if (chosen.length > 1) add(combineCases(base.spec, chosen));
  }

  function cornerEnvelope(): StrobeEnsemble['corners'] {
    const all = buildEnvelope(times, cases.map(asHeard), search);
    const wide = withCorners(design);
    return { envelope: all, uncertainties: wide, bestPair: findBestPair(all, wide) };
  }
}

function strobeInForce(design: Design, envelope: StrobeEnvelope, uncertainties: StrobeUncertainties): number {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return at.time ?? windowAt(envelope, at, uncertainties).inForce.time;
}

/** With the threshold moved by the supply: the trace in parts of that threshold, times the designed one. */
function asHeard(item: EnsembleCase): EnsembleCase {
  const { supply } = item.spec;
  return supply === undefined ? item : { ...item, referred: item.referred.map((value) => value / supply) };
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
