import { coreDraws } from '../core/unknowns/core-draws.ts';
import { coreUncertainty } from '../core/unknowns/core-uncertainty.ts';
import type { Design } from '../design/design.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { simulate } from '../simulate/simulate.ts';
import { marginChain } from './chain.ts';
import { coreMargins, type CoreMargins, type OpenCore } from './core-set.ts';
import { NUMBERS_SHARE, runEnsemble, type EnsembleOptions, type StrobeEnsemble } from './ensemble.ts';
import { namesAt, seenSets } from './envelope.ts';
import { failedWindow } from './failed-window.ts';
import { ledgerAt, type LedgerEntry } from './ledger.ts';
import { noticeHalfSelect, noticeOverload, noticeFailed } from './notices.ts';
import { overloadAt, partsAt } from './parts.ts';
import { blame, wayOut } from './reason-words.ts';
import { decide, judge, judgeMargin, judgeParts, worseOf, type Verdict } from './verdict.ts';
import { windowAt, type WindowAnswer } from './window-at.ts';
import type { CornerWindow, RateWindow, StrobeWindow } from './window-result.ts';

/**
 * Where strobe (s from the start of read) and threshold (V at the sense wire) belong, what margin there is (V), and what
 * takes it. That there is no window is an answer too: `strobe` is then undefined and `reason` says why, also where a
 * run failed. By default all cases (a second to a minute); `cases: 'quick'` takes a few runs.
 */
export function strobeWindow(design: Design, options: Partial<EnsembleOptions> = {}): StrobeWindow {
  const ensemble = runEnsemble(design, { simulate, openCore, ...options });
  if (!('envelope' in ensemble)) return failedWindow(design, ensemble.failed);
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return windowOf(ensemble, at);
}

/** Cores drawn for the set `core`: twenty tell its interval to about a quarter of its width. */
const CORE_DRAWS = 20;

/** What is not known of a design's core, with the seed of its stored pattern. */
export const openCore = ({ core, stored }: Design): OpenCore => ({
  parameters: coreUncertainty(core),
  draws: coreDraws(core, CORE_DRAWS, stored.seed).cores,
});

/** The whole answer for a strobe and a threshold, without running anything. */
export function windowOf(
  ensemble: StrobeEnsemble,
  at: { readonly time: number | undefined; readonly threshold: number },
): StrobeWindow {
  const { envelope, uncertainties, worst, cases, opening, bestPair } = ensemble;
  const answer = windowAt(envelope, at, uncertainties);
  const seen = answer.inForce.time - uncertainties.delay;
  const setBy = Object.values(namesAt(envelope, seen));
  const atStrobe = { one: partsAt(worst.one, seen).parts, zero: partsAt(worst.zero, seen).parts };
  const corners = cornerWindow(ensemble, answer.inForce);
  const overload = overloadAt(worst.zero, seen);
  const noiseLimit = ensemble.design.requirement.halfSelectNoise ?? at.threshold - uncertainties.threshold;
  const half = Math.abs(atStrobe.zero.halfSelectedReversible + atStrobe.zero.halfSelectedIrreversible);
  const core = coreAt(ensemble, at, answer.inForce, corners);
  const verdict = verdictOf(ensemble, answer, corners, core);
  const chainSide = decidingSide(verdict);
  return {
    verdict,
    chain: marginChain(ensemble, chainSide, answer.inForce, core?.[chainSide]),
    chainSide,
    ledger: ensemble.ledger ? ledgerOf(ensemble, answer.inForce) : [],
    ...answer,
    reason:
      answer.reason &&
      [answer.reason, blame(answer, atStrobe, overload), wayOut(answer, bestPair)]
        .filter((text) => text !== '')
        .join(' '),
    corners,
    overRate: overRate(ensemble, answer),
    atStrobe,
    envelope: ensemble.seen,
    opening,
    bestPair,
    cases: cases.map((c) => ({
      name: c.name,
      bit: c.bit,
      pattern: c.pattern,
      atStrobe: valueAt(envelope.time, c.referred, seen),
      defines: setBy.includes(c.name),
      corner: c.corner,
      overrides: c.overrides,
    })),
    notices: [
      ...(answer.notices ?? []),
      ...noticeHalfSelect(half, noiseLimit),
      ...noticeOverload(ensemble, seen),
      ...ensemble.failed.map(noticeFailed),
    ],
  };
}

/** What the corners leave at the strobe and threshold that the nominal cases chose. */
function cornerWindow({ corners }: StrobeEnsemble, at: StrobeWindow['inForce']): CornerWindow | undefined {
  if (corners === undefined) return undefined;
  const { envelope, uncertainties, bestPair } = corners;
  const { reason, strobe, threshold, margin, distance, pulses } = windowAt(envelope, at, uncertainties);
  const { delay } = uncertainties;
  const { one, zero } = namesAt(envelope, at.time - delay);
  return {
    reason,
    strobe,
    threshold,
    margin,
    distance,
    bestPair,
    pulses,
    one,
    zero,
    envelope: seenSets(envelope, delay),
  };
}

/** Of the margin that the ledger is about: the corners' where the design asks for them. */
function ledgerOf(
  { design, ledger, core, envelope, uncertainties, corners }: StrobeEnsemble,
  at: StrobeWindow['inForce'],
): LedgerEntry[] {
  const counted =
    design.requirement.sets.includes('corners') && corners ? corners.uncertainties : uncertainties;
  return ledgerAt(ledger ?? [], core, envelope.time, counted, at);
}

/** The lesser side of the set that decides; of one that is no margin, that of the corners. */
function decidingSide({ decides, sets }: Verdict): 'one' | 'zero' {
  const set = decides === 'nominal' ? sets.nominal : (sets.corners ?? sets.nominal);
  return set.side;
}

/** Every set that was computed, judged at the strobe and threshold in force. */
function verdictOf(
  ensemble: StrobeEnsemble,
  answer: WindowAnswer,
  corners: CornerWindow | undefined,
  core: CoreMargins | undefined,
): Verdict {
  const { design, envelope, uncertainties, numbers, parts } = ensemble;
  const { requirement } = design;
  const seen = answer.inForce.time - uncertainties.delay;
  const nominal = judgeMargin(answer, namesAt(envelope, seen), requirement);
  const atCorners = corners && judgeMargin(corners, corners, requirement);
  // A temperature coefficient of which nothing is known is no nought: what either end of it leaves counts.
  const heat = core?.unknownHeat;
  const blind = atCorners && heat !== undefined && heat < atCorners.margin && leavesRoom(design);
  const error = numbers && valueAt(envelope.time, numbers, seen);
  const least = Math.min(Math.abs(nominal.margin), Math.abs(atCorners?.margin ?? Infinity));
  return decide(
    {
      nominal,
      corners: atCorners
        ? {
            ...atCorners,
            ...(blind
              ? {
                  verdict: worseOf(
                    atCorners.verdict,
                    judge({ margin: heat, width: atCorners.width }, requirement),
                  ),
                  unknownTemperature: heat,
                }
              : {}),
          }
        : null,
      parts: parts
        ? judgeParts(
            parts.softest,
            readAt(parts.at, answer.inForce) ? parts.yield : undefined,
            requirement.yield,
          )
        : null,
      core: core
        ? {
            verdict: judge({ margin: core.verdict.low, width: Infinity }, { ...requirement, width: 0 }),
            ...core.verdict,
          }
        : null,
      numbers:
        error === undefined ? null : { verdict: error <= NUMBERS_SHARE * least ? 'reads' : 'short', error },
    },
    requirement.sets,
  );
}

/** Yield is of the strobe and threshold at which the draws were read, and of no other. */
const readAt = (at: StrobeWindow['inForce'], now: StrobeWindow['inForce']): boolean =>
  at.time === now.time && at.threshold === now.threshold;

/** Does the design, or a corner of it, leave the 25 °C at which a core's parameters hold? */
const leavesRoom = ({ temperature, tolerances }: Design): boolean =>
  temperature !== 25 || tolerances.temperature > 0;

/** The corners over what is not known of the core, at the strobe and threshold in force. */
function coreAt(
  { core, corners, uncertainties, envelope }: StrobeEnsemble,
  at: { readonly time: number | undefined },
  inForce: StrobeWindow['inForce'],
  window: CornerWindow | undefined,
): CoreMargins | undefined {
  if (core === undefined || corners === undefined || window === undefined) return undefined;
  const wide = corners.uncertainties;
  const { one, zero, left } = window.margin;
  const own = { left, one: one - wide.threshold, zero: zero - wide.threshold };
  const strobe = { ...inForce, found: at.time === undefined };
  return coreMargins(core, envelope.time, strobe, { ...wide, delay: uncertainties.delay }, own);
}

/** The same strobe and threshold at the design's own period and at each faster one that was run. */
function overRate({ design, rates, uncertainties }: StrobeEnsemble, nominal: WindowAnswer): RateWindow[] {
  const point = (period: number, { strobe, margin, pulses }: WindowAnswer): RateWindow => ({
    period,
    strobe,
    margin,
    pulses,
  });
  return [
    point(design.cycle.period, nominal),
    ...rates.map(({ period, envelope }) => point(period, windowAt(envelope, nominal.inForce, uncertainties))),
  ];
}
