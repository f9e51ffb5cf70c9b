import { valueAt } from '../sense-amplifier/detector.ts';
import { marginChain } from './chain.ts';
import type { ChainStep } from './chain-step.ts';
import { coreMargins, type CoreMargins } from './core-margins.ts';
import type { StrobeEnsemble } from './ensemble-result.ts';
import { namesAt, seenSets } from './envelope.ts';
import type { LedgerEntry } from './ledger-entry.ts';
import { ledgerAt } from './ledger-at.ts';
import { noticeHalfSelect, noticeOverload, noticeFailed } from './notices.ts';
import { overloadAt, partsAt } from './parts.ts';
import { blame, wayOut } from './reason-words.ts';
import { leavesRoom } from './unknown-heat.ts';
import { decide, judge, judgeCore, judgeMargin, judgeParts, NUMBERS_SHARE, worseOf } from './verdict.ts';
import type { Verdict } from './verdict-of-sets.ts';
import { windowAt } from './window-at.ts';
import type { WindowAnswer } from './window-result.ts';
import type { CornerWindow, RateWindow, StrobeWindow } from './window-result.ts';

/** Strobe, s (undefined: the best instant at this threshold), and threshold, V at the sense wire. */
interface Place {
  readonly time: number | undefined;
  readonly threshold: number;
}

/** The whole answer for a strobe and a threshold, without running anything. */
export const windowOf = (ensemble: StrobeEnsemble, at: Place): StrobeWindow =>
  windowWithChains(ensemble, at).window;

/** The same with the chain of the margin on either side of the threshold, not only on the one that decides. */
export function windowWithChains(
  ensemble: StrobeEnsemble,
  at: Place,
): {
  readonly window: StrobeWindow;
  readonly chains: Readonly<Record<'one' | 'zero', readonly ChainStep[]>>;
} {
  const { envelope, uncertainties, worst, cases, opening, bestPair } = ensemble;
  const answer = windowAt(envelope, at, uncertainties);
  const seen = answer.inForce.time - uncertainties.delay;
  const setBy = Object.values(namesAt(envelope, seen));
  const atStrobe = { one: partsAt(worst.one, seen).parts, zero: partsAt(worst.zero, seen).parts };
  const corners = cornerWindow(ensemble, answer.inForce);
  const overload = { one: overloadAt(worst.one, seen), zero: overloadAt(worst.zero, seen) };
  const noiseLimit = ensemble.design.requirement.halfSelectNoise ?? at.threshold - uncertainties.threshold;
  const half = Math.abs(atStrobe.zero.halfSelectedReversible + atStrobe.zero.halfSelectedIrreversible);
  const core = coreAt(ensemble, at, answer.inForce, corners);
  const verdict = verdictOf(ensemble, answer, corners, core);
  const chainSide = decidingSide(verdict);
  const chains = {
    one: marginChain(ensemble, 'one', answer.inForce, core?.one),
    zero: marginChain(ensemble, 'zero', answer.inForce, core?.zero),
  };
  const window: StrobeWindow = {
    verdict,
    chain: chains[chainSide],
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
  return { window, chains };
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
            verdict: judgeCore(core.verdict, requirement),
            ...core.verdict,
          }
        : null,
      numbers:
        error === undefined ? null : { verdict: error <= NUMBERS_SHARE * least ? 'reads' : 'short', error },
    },
    requirement.sets,
    ensemble.limits,
  );
}

/** Yield is of the strobe and threshold at which the draws were read, and of no other. */
const readAt = (at: StrobeWindow['inForce'], now: StrobeWindow['inForce']): boolean =>
  at.time === now.time && at.threshold === now.threshold;

/** The corners over what is not known of the core, at the strobe and threshold in force. */
function coreAt(
  { core, corners, uncertainties, envelope }: StrobeEnsemble,
  at: Pick<Place, 'time'>,
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
