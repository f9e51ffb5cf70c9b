import { nameCase } from './case-overrides.ts';
import { makeCaseRuns, SEARCHED } from './case-runs.ts';
import type { FailedCase } from './case-runs.ts';
import { quickCases } from './cases.ts';
import { findBestPair } from './best-pair.ts';
import { runCoreSet } from './core-set.ts';
import type { CoreSet } from './open-core.ts';
import type { OpenCore } from './open-core.ts';
import { definingCases, followedUntil, seenEnvelope, strobeSearch, strobeUncertainties } from './envelope.ts';
import { findOpening } from './intervals.ts';
import { runLedger } from './ledger.ts';
import type { LedgerRun } from './ledger-run.ts';
import { rateEnvelopes } from './rates.ts';
import type { RateEnvelope } from './rates.ts';
import { NUMBERS_SHARE } from './verdict.ts';
import type { PartsYield } from './verdict-of-sets.ts';
import { windowAt } from './window-at.ts';
import type { Design } from '../design/design.ts';
import { softestCore } from '../estimates/softest-core.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import { finerFor } from '../solver/run-error.ts';
import {
  addWorstCases,
  cornerEnvelope,
  nominalEnvelope,
  splitBoth,
  strobeInForce,
  worstCases,
} from './worst-cases.ts';
import type { EnsembleOptions, MovedAlone, StrobeEnsemble } from './ensemble-result.ts';

/** Runs are made finer until their own error at the strobe is under NUMBERS_SHARE of the margin; at most this fine, which costs its square, */
const MOST_FINER = 4;
/** as often as another case may come to set an envelope, */
const REFINING_ROUNDS = 4;
/** V: and with cases that differ by no more, as those at addresses that mirror each other. */
const ALIKE = 1e-6;

/** The runs of a design, or the run that failed when no ONE or no ZERO was left. */
export function runEnsemble(
  design: Design,
  options: EnsembleOptions,
): StrobeEnsemble | { readonly failed: FailedCase } {
  const full = options.cases !== 'quick';
  const cornered = full && options.cases !== 'nominal';
  const whole = cornered && options.cases !== 'corners';
  const search = strobeSearch(design);
  // The baseline depends on the cycles before all the cases alike: found once, with the design's own pattern.
  const coupling = repetitionCoupling(design, options.simulate);
  const until = options.wholeCycle === true ? undefined : followedUntil(design);
  const runs = makeCaseRuns(design, options.simulate, {
    coupling,
    until,
    cancelled: options.cancelled,
    finer: full ? SEARCHED : 1,
  });
  for (const spec of quickCases(design)) runs.add(spec);
  const { time } = runs;
  if (time === undefined || new Set(runs.cases.map((c) => c.bit)).size < 2)
    return { failed: runs.failed[0]! };

  const uncertainties = strobeUncertainties(design);
  if (full) {
    addWorstCases(design, runs, time, search, cornered);
    refineSetting(1);
  }
  let worst = worstCases(design, runs, time, search);
  let parts = splitBoth(runs, worst, full);
  if (full && parts.error) {
    const finer = finerNeeded(parts.error);
    if (finer > 1) {
      refineSetting(finer);
      worst = worstCases(design, runs, time, search);
      parts = splitBoth(runs, worst, full);
    }
  }
  const alone = cornered ? { one: moveAlone('one'), zero: moveAlone('zero') } : undefined;
  const envelope = nominalEnvelope(runs, time, search);
  const ensemble: StrobeEnsemble = {
    design,
    envelope,
    seen: seenEnvelope(envelope, uncertainties.delay),
    uncertainties,
    opening: findOpening(envelope, uncertainties),
    bestPair: findBestPair(envelope, uncertainties),
    rates: cornered ? fasterEnvelopes() : [],
    cases: runs.cases,
    corners: alone && { ...cornerEnvelope(design, runs, time, search), alone },
    worst: { one: parts.one, zero: parts.zero },
    numbers: parts.error,
    core: undefined,
    ledger: undefined,
    parts: full ? { softest: softestCore(design), yield: undefined, at: inForce() } : undefined,
    failed: runs.failed,
  };
  options.told?.(ensemble);
  const { parts: found } = ensemble;
  return {
    ...ensemble,
    core: whole && options.openCore ? otherCores(options.openCore(design)) : undefined,
    ledger: whole ? assumptions() : undefined,
    parts: found && { ...found, yield: drawnYield() },
  };

  function inForce(): { readonly time: number; readonly threshold: number } {
    return {
      time: strobeInForce(design, envelope, uncertainties),
      threshold: design.detector.threshold,
    };
  }

  /** How much finer the runs must be for their error at the strobe to be under a tenth of the margins, as far as is worth it. */
  function finerNeeded(error: Float64Array): number {
    const nominal = nominalEnvelope(runs, time!, search);
    const strobe = strobeInForce(design, nominal, uncertainties);
    const at = { time: strobe, threshold: design.detector.threshold };
    const corners = cornerEnvelope(design, runs, time!, search);
    const margins = [
      windowAt(nominal, at, uncertainties).margin.left,
      windowAt(corners.envelope, at, corners.uncertainties).margin.left,
    ];
    const wanted = Math.min(...margins.map(Math.abs)) * NUMBERS_SHARE;
    return Math.min(MOST_FINER, finerFor(valueAt(time!, error, strobe - uncertainties.delay), wanted));
  }

  /** Runs the cases that set an envelope at the strobe finer, and their likes, until none of those that do is left as it was. */
  function refineSetting(finer: number): void {
    for (let round = 0; round < REFINING_ROUNDS; round++) {
      const nominal = nominalEnvelope(runs, time!, search);
      const at = strobeInForce(design, nominal, uncertainties) - uncertainties.delay;
      const { envelope } = cornerEnvelope(design, runs, time!, search);
      const setting = [nominal, envelope].map(({ one, zero }) => [
        valueAt(time!, zero, at),
        valueAt(time!, one, at),
      ]);
      const coarse = runs.cases.filter(
        ({ bit, heard, finer: now }) =>
          now < finer &&
          setting.some((values) => Math.abs(valueAt(time!, heard, at) - values[bit]!) <= ALIKE),
      );
      if (coarse.length === 0) return;
      for (const item of coarse) runs.refine(item, finer);
    }
  }

  /** The worst nominal case with one input alone where the worst corner has it. */
  function moveAlone(side: 'one' | 'zero'): MovedAlone {
    const { envelope } = cornerEnvelope(design, runs, time!, search);
    const at = strobeInForce(design, nominalEnvelope(runs, time!, search), uncertainties);
    const index = definingCases(envelope, at - uncertainties.delay)[side];
    const corner = runs.cases[index]!.spec;
    const base = worst[side];
    const moved = (['drive', 'supply', 'temperature'] as const).flatMap((input) => {
      if (corner[input] === undefined) return [];
      const found = runs.add({ ...base.spec, [input]: corner[input] }, base.finer);
      return found ? [[input, found.heard] as const] : [];
    });
    return { case: corner, name: runs.cases[index]!.name, base: base.heard, ...Object.fromEntries(moved) };
  }

  /** The ledger's runs, of the corners where the design asks for them. */
  function assumptions(): LedgerRun[] {
    const asked = design.requirement.sets.includes('corners');
    if (!asked) return runLedger(design, runs, worst, false);
    const corners = cornerEnvelope(design, runs, time!, search).envelope;
    const { one, zero } = definingCases(
      corners,
      strobeInForce(design, envelope, uncertainties) - uncertainties.delay,
    );
    return runLedger(design, runs, { one: runs.cases[one]!, zero: runs.cases[zero]! }, true);
  }

  function drawnYield(): PartsYield | undefined {
    const { time } = inForce();
    return options.partsYield?.({ ...design, strobe: { ...design.strobe, time } });
  }

  function otherCores(open: OpenCore): CoreSet {
    const at = strobeInForce(design, envelope, uncertainties) - uncertainties.delay;
    return runCoreSet(design, open, runs, search, uncertainties, [worst.one, worst.zero], at);
  }

  function fasterEnvelopes(): RateEnvelope[] {
    const nominal = runs.cases.filter((c) => !c.corner);
    return rateEnvelopes(design, nominal, [worst.one.spec, worst.zero.spec], time!, search, {
      simulate: options.simulate,
      trace: (spec, overrides, own) => {
        const name = nameCase(spec);
        const referred = runs.refer(name, runs.simulate(overrides, { coupling: own }));
        return referred && { name, bit: spec.bit, referred };
      },
    });
  }
}
