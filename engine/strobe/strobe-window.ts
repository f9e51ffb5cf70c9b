import { valueAt } from '../sense-amplifier/detector.ts';
import type { Design } from '../design/design.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import { CONTRIBUTIONS } from '../network/causes.ts';
import type { Contribution } from '../network/causes.ts';
import { simulate } from '../simulate/simulate.ts';
import { namesAt, seenSets } from './envelope.ts';
import { runEnsemble } from './ensemble.ts';
import type { EnsembleOptions, FailedCase, StrobeEnsemble } from './ensemble.ts';
import { dominantPart, partsAt } from './parts.ts';
import { decide, judgeMargin } from './verdict.ts';
import type { Verdict } from './verdict.ts';
import { windowAt } from './window-at.ts';
import type { WindowAnswer } from './window-at.ts';
import type { CornerWindow, RateWindow, StrobeWindow, WindowNotice } from './window-result.ts';

/** Where strobe and threshold belong, what margin there is, and what takes it; no window is an answer. */
export function strobeWindow(design: Design, options: Partial<EnsembleOptions> = {}): StrobeWindow {
  const ensemble = runEnsemble(design, { simulate, ...options });
  if (!('envelope' in ensemble)) return failedWindow(design, ensemble.failed);
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return windowOf(ensemble, at);
}

/** The whole answer for a strobe and a threshold, without running anything. */
export function windowOf(
  ensemble: StrobeEnsemble,
  at: { readonly time: number | undefined; readonly threshold: number },
): StrobeWindow {
  const { envelope, uncertainties, worst, cases, opening, bestPair } = ensemble;
  const answer = windowAt(envelope, at, uncertainties);
  const seen = answer.inForce.time - uncertainties.delay;
  const setBy = Object.values(namesAt(envelope, seen));
  const atStrobe = { one: partsAt(worst.one, seen), zero: partsAt(worst.zero, seen) };
  const corners = cornerWindow(ensemble, answer.inForce);
  const noiseLimit = ensemble.design.requirement.halfSelectNoise ?? at.threshold - uncertainties.threshold;
  const half = Math.abs(atStrobe.zero.halfSelectedReversible + atStrobe.zero.halfSelectedIrreversible);
  return {
    verdict: verdictOf(ensemble, answer, corners),
    chain: [],
    ledger: [],
    ...answer,
    reason:
      answer.reason &&
      [answer.reason, blame(answer, atStrobe), wayOut(answer, bestPair)]
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
      ...ensemble.failed.map(noticeFailed),
    ],
  };
}

/**
 * Half-select noise at the strobe must stay under a limit, else it is noticed. (As reported of the IBM 1800's 2 us
 * storage, maintenance manual SY26-5956-6, 1970: under 7 mV.)
 */
export function noticeHalfSelect(noise: number, limit: number): WindowNotice[] {
  if (noise < limit || limit <= 0) return [];
  return [
    {
      code: 'half-select-noise',
      message: `Half-selected cores add ${volts(noise)} to the greatest ZERO at the strobe, where less than ${volts(limit)} is due: stagger X and Y, strobe later, or wind so that they cancel.`,
      value: noise,
      limit,
    },
  ];
}

function noticeFailed({ name, outcome }: FailedCase): WindowNotice {
  const advice = outcome.kind === 'done' ? '' : ` ${outcome.advice}`;
  const time = outcome.kind === 'done' ? 0 : outcome.time;
  return {
    code: 'run-failed',
    message: `Not counted: ${name} (${outcome.kind}).${advice}`,
    value: time,
    limit: 0,
  };
}

const WORDS: Readonly<Record<Contribution, string>> = {
  directCoupling: 'direct coupling from the drive lines',
  halfSelectedReversible: 'the elastic answer of half-selected cores',
  halfSelectedIrreversible: 'the switching of half-selected cores',
  selectedCore: 'the selected core itself',
  inhibit: 'what is left of the inhibit pulse',
};

/** Which contribution takes most of the ONE, or leads the ZERO, whichever closes the window; else nothing. */
function blame({ closedBy, inForce }: WindowAnswer, { one, zero }: StrobeWindow['atStrobe']): string {
  const at = formatQuantity(inForce.time, 's');
  if (closedBy === 'zero') {
    const leader = dominantPart(zero);
    return `At ${at} the greatest ZERO is led by ${WORDS[leader]} (${volts(zero[leader])}).`;
  }
  if (closedBy !== 'one') return '';
  const taker = CONTRIBUTIONS.reduce((most, name) => (one[name] < one[most] ? name : most));
  const own = `At ${at} ${WORDS.selectedCore} gives ${volts(one.selectedCore)} of the least ONE`;
  return taker === 'selectedCore' || one[taker] > -0.01 * Math.abs(one.selectedCore)
    ? `${own}.`
    : `${own}, and ${WORDS[taker]} takes ${volts(-one[taker])} from it.`;
}

/** A pair that passes with the stated uncertainties, where the threshold in force has none. */
function wayOut({ closedBy }: WindowAnswer, best: StrobeWindow['bestPair']): string {
  if (closedBy === undefined || best === undefined || best.distance < 1) return '';
  return `A strobe at ${formatQuantity(best.time, 's')} with a threshold of ${volts(best.threshold)} would pass.`;
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

/** Every set that was computed, judged at the strobe and threshold in force. */
function verdictOf(
  { design, envelope, uncertainties, numbers }: StrobeEnsemble,
  answer: WindowAnswer,
  corners: CornerWindow | undefined,
): Verdict {
  const { requirement } = design;
  const seen = answer.inForce.time - uncertainties.delay;
  const nominal = judgeMargin(answer, namesAt(envelope, seen), requirement);
  const error = numbers && Math.max(valueAt(envelope.time, numbers, seen), 0);
  return decide(
    {
      nominal,
      corners: corners ? judgeMargin(corners, corners, requirement) : null,
      parts: null,
      core: null,
      numbers:
        error === undefined
          ? null
          : { verdict: error <= Math.abs(nominal.margin) / 10 ? 'reads' : 'short', error },
    },
    requirement.sets,
  );
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

const volts = (value: number): string => formatQuantity(value, 'V');

/** No ONE or no ZERO could be computed: everything is NaN or empty and the reason says what to do. */
function failedWindow(design: Design, { name, outcome }: FailedCase): StrobeWindow {
  const none = {
    directCoupling: NaN,
    halfSelectedReversible: NaN,
    halfSelectedIrreversible: NaN,
    selectedCore: NaN,
    inhibit: NaN,
  };
  const advice = outcome.kind === 'done' ? '' : outcome.advice;
  return {
    verdict: decide(
      {
        nominal: { verdict: 'fails', margin: NaN, width: 0, side: 'one', case: name },
        corners: null,
        parts: null,
        core: null,
        numbers: null,
      },
      ['nominal'],
    ),
    chain: [],
    ledger: [],
    reason: `No window could be computed: ${name} ended as ${outcome.kind}. ${advice}`,
    strobe: undefined,
    intervals: [],
    threshold: undefined,
    inForce: { time: design.strobe.time ?? NaN, threshold: design.detector.threshold },
    margin: { one: NaN, zero: NaN, total: NaN, left: NaN, ratioDb: NaN },
    taps: [],
    tap: undefined,
    errorChance: NaN,
    atStrobe: { one: none, zero: none },
    envelope: {
      time: new Float64Array(0),
      one: new Float64Array(0),
      zero: new Float64Array(0),
      oneHigh: new Float64Array(0),
      zeroLow: new Float64Array(0),
    },
    opening: [],
    cases: [],
  };
}
