import { noneWords } from './notice-words.ts';
import type { Design } from '../design/design.ts';
import type { FailedCase } from './case-runs.ts';
import { brokenLimits } from '../estimates/constraints.ts';
import { decide } from './verdict.ts';
import type { StrobeWindow } from './window-result.ts';

/** No ONE or no ZERO could be computed: everything is NaN or empty and the reason says what to do. */
export function failedWindow(design: Design, failed: FailedCase): StrobeWindow {
  const none = {
    directCoupling: NaN,
    halfSelectedReversible: NaN,
    halfSelectedIrreversible: NaN,
    selectedCore: NaN,
    inhibit: NaN,
  };
  return {
    verdict: decide(
      {
        nominal: { verdict: 'fails', margin: NaN, width: 0, side: 'one', case: failed.name },
        corners: null,
        parts: null,
        core: null,
        numbers: null,
      },
      ['nominal'],
      brokenLimits(design),
    ),
    chain: [],
    chainSide: 'one',
    ledger: [],
    reason: noneWords(failed),
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
