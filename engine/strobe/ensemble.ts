import { nameCase } from './case-overrides.ts';
import { makeCaseRuns, SEARCHED } from './case-runs.ts';
import type { CaseRuns, FailedCase } from './case-runs.ts';
import { quickCases } from './cases.ts';
import { findBestPair } from './best-pair.ts';
import { runCoreSet } from './core-set.ts';
import type { EnsembleOptions, MovedAlone, StrobeEnsemble } from './ensemble-result.ts';
import { definingCases, followedUntil, seenEnvelope, strobeSearch, strobeUncertainties } from './envelope.ts';
import type { StrobeEnvelope } from './envelope.ts';
import { findOpening } from './intervals.ts';
import { runLedger } from './ledger.ts';
import type { LedgerRun } from './ledger-run.ts';
import { rateEnvelopes } from './rates.ts';
import type { RateEnvelope } from './rates.ts';
import { finerNeeded, refineSetting } from './refine-cases.ts';
import type { EnsembleWork } from './refine-cases.ts';
import type { Design } from '../design/design.ts';
import { brokenLimits } from '../estimates/constraints.ts';
import { softestCore } from '../estimates/softest-core.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import {
  addWorstCases,
  cornerEnvelope,
  nominalEnvelope,
  splitBoth,
  strobeInForce,
  worstCases,
} from './worst-cases.ts';

/** The runs of a design, or one that went wrong: then there is no answer. */
export function runEnsemble(
  design: Design,
  options: EnsembleOptions,
): StrobeEnsemble | { readonly failed: FailedCase } {
  const { cases = 'full' } = options;
  const searched = cases !== 'quick';
  const cornered = searched && cases !== 'nominal';
  const runs = quickRuns(design, options);
  const { time } = runs;
  if (time === undefined || new Set(runs.cases.map((c) => c.bit)).size < 2)
    return { failed: runs.failed[0]! };
  const work: EnsembleWork = {
    design,
    runs,
    time,
    search: strobeSearch(design),
    uncertainties: strobeUncertainties(design),
  };
  const found = findWorst(work, searched, cornered);
  // The case that went wrong may be the worst: nothing is judged without it.
  const lost = runs.failed.find(({ outcome }) => outcome.kind !== 'cancelled');
  if (lost) return { failed: lost };
  const ensemble = told(work, found, { searched, cornered, simulate: options.simulate });
  options.told?.(ensemble);
  return searched
    ? withUnknowns(work, ensemble, found.worst, options, cornered && cases === 'full')
    : ensemble;
}

/** The quick cases, and room for more. */
function quickRuns(design: Design, options: EnsembleOptions): CaseRuns {
  const { atHand } = options;
  const runs = makeCaseRuns(design, options.simulate, {
    ...(atHand ? { atHand } : {}),
    // The baseline depends on the cycles before all the cases alike: found once, with the design's own pattern.
    coupling: repetitionCoupling(design, options.simulate),
    until: options.wholeCycle === true ? undefined : followedUntil(design),
    cancelled: options.cancelled,
    finer: options.cases === 'quick' ? 1 : SEARCHED,
  });
  for (const spec of quickCases(design)) runs.add(spec);
  return runs;
}

interface Found {
  /** The nominal cases that set the envelope at the strobe in force, and the same split by cause. */
  readonly worst: ReturnType<typeof worstCases>;
  readonly parts: ReturnType<typeof splitBoth>;
}

/**
 * Searches the worst cases where asked to, runs finer what sets the envelopes, and again until the run's own error is a
 * tenth of the margin or they are as fine as is worth it.
 */
function findWorst(work: EnsembleWork, searched: boolean, cornered: boolean): Found {
  const { design, runs, time, search } = work;
  if (searched) {
    addWorstCases(design, runs, time, search, cornered);
    refineSetting(work, 1);
  }
  for (let finer = 1; ;) {
    const worst = worstCases(design, runs, time, search);
    const parts = splitBoth(runs, worst, searched);
    const needed = searched && parts.error ? finerNeeded(work, parts.error, finer) : finer;
    if (needed <= finer) return { worst, parts };
    finer = needed;
    refineSetting(work, finer);
  }
}

/** The answer as far as the cases alone tell it. */
function told(
  work: EnsembleWork,
  { worst, parts }: Found,
  how: { readonly searched: boolean; readonly cornered: boolean } & Pick<EnsembleOptions, 'simulate'>,
): StrobeEnsemble {
  const { design, runs, time, search, uncertainties } = work;
  const alone = how.cornered
    ? { one: moveAlone(work, worst, 'one'), zero: moveAlone(work, worst, 'zero') }
    : undefined;
  const envelope = nominalEnvelope(runs, time, search);
  return {
    design,
    envelope,
    seen: seenEnvelope(envelope, uncertainties.delay),
    uncertainties,
    opening: findOpening(envelope, uncertainties),
    bestPair: findBestPair(envelope, uncertainties),
    rates: how.cornered ? fasterEnvelopes(work, worst, how.simulate) : [],
    cases: runs.cases,
    corners: alone && { ...cornerEnvelope(design, runs, time, search), alone },
    worst: { one: parts.one, zero: parts.zero },
    numbers: parts.error,
    core: undefined,
    ledger: undefined,
    parts: how.searched
      ? { softest: softestCore(design), yield: undefined, at: inForce(work, envelope) }
      : undefined,
    failed: runs.failed,
    limits: brokenLimits(design),
  };
}

/** Adds what is not known of the core and the assumptions (where `whole`), and the yield of parts. */
function withUnknowns(
  work: EnsembleWork,
  ensemble: StrobeEnsemble,
  worst: Found['worst'],
  options: EnsembleOptions,
  whole: boolean,
): StrobeEnsemble {
  const { design, runs, search, uncertainties } = work;
  const { envelope, parts } = ensemble;
  const { time } = inForce(work, envelope);
  const { openCore, partsYield } = options;
  const setting = [worst.one, worst.zero];
  return {
    ...ensemble,
    core:
      whole && openCore
        ? runCoreSet(
            design,
            openCore(design),
            runs,
            search,
            uncertainties,
            setting,
            time - uncertainties.delay,
          )
        : undefined,
    ledger:
      whole && options.assumptions !== false
        ? assumptions(work, worst, time - uncertainties.delay)
        : undefined,
    parts: parts && { ...parts, yield: partsYield?.({ ...design, strobe: { ...design.strobe, time } }) },
  };
}

const inForce = ({ design, uncertainties }: EnsembleWork, envelope: StrobeEnvelope) => ({
  time: strobeInForce(design, envelope, uncertainties),
  threshold: design.detector.threshold,
});

/** The worst nominal case with one input alone where the worst corner has it. */
function moveAlone(work: EnsembleWork, worst: Found['worst'], side: 'one' | 'zero'): MovedAlone {
  const { design, runs, time, search, uncertainties } = work;
  const { envelope } = cornerEnvelope(design, runs, time, search);
  const at = strobeInForce(design, nominalEnvelope(runs, time, search), uncertainties);
  const found = runs.cases[definingCases(envelope, at - uncertainties.delay)[side]]!;
  const base = worst[side];
  const moved = (['drive', 'supply', 'temperature'] as const).flatMap((input) => {
    if (found.spec[input] === undefined) return [];
    const run = runs.add({ ...base.spec, [input]: found.spec[input] }, base.finer);
    return run ? [[input, run.heard] as const] : [];
  });
  return { case: found.spec, name: found.name, base: base.heard, ...Object.fromEntries(moved) };
}

/** The ledger's runs, of the corners where the design asks for them; `at`: signal time, s. */
function assumptions(
  { design, runs, time, search }: EnsembleWork,
  worst: Found['worst'],
  at: number,
): LedgerRun[] {
  if (!design.requirement.sets.includes('corners')) return runLedger(design, runs, worst, false);
  const { one, zero } = definingCases(cornerEnvelope(design, runs, time, search).envelope, at);
  return runLedger(design, runs, { one: runs.cases[one]!, zero: runs.cases[zero]! }, true);
}

/** The nominal envelope when cycles follow each other faster. */
function fasterEnvelopes(
  { design, runs, time, search }: EnsembleWork,
  worst: Found['worst'],
  simulate: EnsembleOptions['simulate'],
): RateEnvelope[] {
  const nominal = runs.cases.filter((c) => !c.corner);
  return rateEnvelopes(design, nominal, [worst.one.spec, worst.zero.spec], time, search, {
    simulate,
    trace: (spec, overrides, own) => {
      const name = nameCase(spec);
      const referred = runs.refer(name, runs.simulate(overrides, { coupling: own }));
      return referred && { name, bit: spec.bit, referred };
    },
  });
}
