import { failedWords, falseWords, halfSelectWords, overloadWords } from './notice-words.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { wholeGain } from '../sense-amplifier/referred.ts';
import type { FailedCase } from './case-runs.ts';
import type { StrobeEnsemble } from './ensemble-result.ts';
import type { StrobeEnvelope } from './envelope.ts';
import type { WindowNotice } from './window-result.ts';

/**
 * Half-select noise at the strobe must stay under a limit, else it is noticed. (As reported of the IBM 1800's 2 us
 * storage, maintenance manual SY26-5956-6, 1970: under 7 mV.)
 */
export function noticeHalfSelect(noise: number, limit: number): WindowNotice[] {
  if (noise < limit || limit <= 0) return [];
  return [
    {
      code: 'half-select-noise',
      message: halfSelectWords(noise, limit),
      value: noise,
      limit,
    },
  ];
}

/** Part of the amplifier's output limit from which on it stands at it. */
const AT_LIMIT = 0.98;

/** An amplifier that stands at its limit for a ONE and a ZERO alike at the strobe says nothing of the cores. */
export function noticeOverload({ design, worst }: StrobeEnsemble, seen: number): WindowNotice[] {
  const { outputLimit, recovery } = design.amplifier;
  const limit = (AT_LIMIT * outputLimit) / wholeGain(design.amplifier);
  const [one, zero] = [worst.one, worst.zero].map(({ time, total }) => valueAt(time, total, seen)) as [
    number,
    number,
  ];
  if (one < limit || zero < limit) return [];
  return [
    {
      code: 'overload',
      message: overloadWords(Math.min(one, zero), recovery),
      value: Math.min(one, zero),
      limit,
    },
  ];
}

export function noticeFailed(failed: FailedCase): WindowNotice {
  const { outcome } = failed;
  const time = outcome.kind === 'done' ? 0 : outcome.time;
  return {
    code: 'run-failed',
    message: failedWords(failed),
    value: time,
    limit: 0,
  };
}

/** A ONE under the threshold is read as a ZERO (Törnquist, Elteknik 2, 1959, pp. 97-98), and the other way. */
export function falseReadings(
  envelope: StrobeEnvelope,
  seen: number,
  one: number,
  zero: number,
  threshold: number,
): WindowNotice[] {
  const { time, sets } = envelope;
  const step = (time[time.length - 1] - time[0]) / (time.length - 1);
  const i = Math.max(0, Math.min(time.length - 1, Math.round((seen - time[0]) / step)));
  const notices: WindowNotice[] = [];
  if (one < threshold)
    notices.push({
      code: 'false-zero',
      message: falseWords('one', sets?.names[sets.one[i]], one, threshold),
      value: one,
      limit: threshold,
    });
  if (zero > threshold)
    notices.push({
      code: 'false-one',
      message: falseWords('zero', sets?.names[sets.zero[i]], zero, threshold),
      value: zero,
      limit: threshold,
    });
  return notices;
}
