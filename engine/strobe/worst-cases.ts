import type { Design } from '../design/design.ts';
import type { Simulation } from '../solver/result.ts';
import { findBestPair } from './best-pair.ts';
import type { CaseRuns, EnsembleCase } from './case-runs.ts';
import type { StrobeEnsemble } from './ensemble-result.ts';
import { buildEnvelope, cornerUncertainties, definingCases, strobeUncertainties } from './envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from './envelope.ts';
import { addWorst, caseSearches, instants } from './find-cases.ts';
import { referParts } from './parts.ts';
import type { ReferredParts } from './parts.ts';
import { rateSpecs } from './rates.ts';
import { windowAt } from './window-at.ts';

/** The worst of all cases as designed, then of all of them at all corners, at the strobe in force and about it. */
export function addWorstCases(
  design: Design,
  runs: CaseRuns,
  time: Float64Array,
  search: StrobeEnvelope['search'],
  cornered: boolean,
): void {
  const uncertainties = strobeUncertainties(design);
  const searches = caseSearches(design, runs, time);
  const nominal = searches.map((each) => each.free(false));
  addWorst(nominal, () => instants(design, nominalEnvelope(runs, time, search), uncertainties));
  if (!cornered) return;
  const { one, zero } = worstCases(design, runs, time, search);
  for (const spec of rateSpecs(design, one.spec, zero.spec)) runs.add(spec);
  const strobe = strobeInForce(design, nominalEnvelope(runs, time, search), uncertainties);
  const held = { ...design, strobe: { ...design.strobe, time: strobe } };
  addWorst(searches, () => {
    const { envelope, uncertainties: wide } = cornerEnvelope(design, runs, time, search);
    return instants(held, envelope, wide);
  });
}

interface Worst {
  readonly one: EnsembleCase;
  readonly zero: EnsembleCase;
}

/** The nominal cases that set the envelope at the strobe in force. */
export function worstCases(
  design: Design,
  runs: CaseRuns,
  time: Float64Array,
  search: StrobeEnvelope['search'],
): Worst {
  const uncertainties = strobeUncertainties(design);
  const nominal = nominalEnvelope(runs, time, search);
  const strobe = strobeInForce(design, nominal, uncertainties) - uncertainties.delay;
  const { one, zero } = definingCases(nominal, strobe);
  const among = runs.cases.filter((c) => !c.corner);
  return { one: among[one]!, zero: among[zero]! };
}

/** Both worst cases split by cause; with `judged`, the greater of their own errors too, V against time. */
export function splitBoth(
  runs: CaseRuns,
  worst: Worst,
  judged: boolean,
): { readonly one: ReferredParts; readonly zero: ReferredParts; readonly error: Float64Array | undefined } {
  const split = ({ overrides, finer }: EnsembleCase): Simulation =>
    runs.simulate(overrides, { contributions: true, estimateError: judged, finer });
  const [one, zero] = [split(worst.one), split(worst.zero)];
  const error = one.error?.trace.map((value, i) => Math.max(value, zero.error!.trace[i]!));
  return { one: referParts(one), zero: referParts(zero), error };
}

export const nominalEnvelope = (
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
export function cornerEnvelope(
  design: Design,
  { cases }: CaseRuns,
  time: Float64Array,
  search: StrobeEnvelope['search'],
): Omit<NonNullable<StrobeEnsemble['corners']>, 'alone'> {
  const heard = cases.map(({ name, bit, heard: referred }) => ({ name, bit, referred }));
  const envelope = buildEnvelope(time, heard, search);
  const uncertainties = cornerUncertainties(design);
  return { envelope, uncertainties, bestPair: findBestPair(envelope, uncertainties) };
}

export function strobeInForce(
  design: Design,
  envelope: StrobeEnvelope,
  uncertainties: StrobeUncertainties,
): number {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return at.time ?? windowAt(envelope, at, uncertainties).inForce.time;
}
