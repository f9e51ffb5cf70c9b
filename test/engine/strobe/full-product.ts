import type { Design } from '../../../engine/design/design.ts';
import { repetitionCoupling } from '../../../engine/sense-amplifier/repetition.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate as atFull } from '../../../engine/simulate/simulate.ts';
import { applyOverrides, overridesOf } from '../../../engine/strobe/case-overrides.ts';
import type { CaseSpec } from '../../../engine/strobe/case-overrides.ts';
import { caseSpace } from '../../../engine/strobe/cases.ts';
import { followedUntil } from '../../../engine/strobe/envelope.ts';

/**
 * Least ONE and greatest ZERO at a strobe over every case of the product (patterns, histories, addresses, corners), each
 * run by itself: V at the sense wire, of a moved supply in parts of the moved threshold.
 * @param simulate computes one run, by default as finely as the design says
 */
export function fullProduct(
  design: Design,
  strobe: number,
  simulate = atFull,
): { one: number; zero: number; runs: number } {
  const { patterns, histories, addresses, corners } = caseSpace(design);
  const coupling = repetitionCoupling(design, simulate);
  const until = followedUntil(design);
  const { divider, gain } = design.amplifier;
  const found = { one: Infinity, zero: -Infinity, runs: 0 };
  for (const bit of [1, 0] as const)
    for (const pattern of patterns)
      for (const history of histories)
        for (const address of addresses)
          for (const corner of corners) {
            const spec: CaseSpec = { bit, ...pattern, ...history, ...address, ...corner };
            const { time, amplifierOutput } = simulate(applyOverrides(design, overridesOf(design, spec)), {
              contributions: false,
              estimateError: false,
              balance: false,
              coupling,
              until,
            });
            const heard = valueAt(time, amplifierOutput, strobe - design.detector.delay);
            const value = heard / (divider * gain * (spec.supply ?? 1));
            found.runs++;
            if (bit === 1) found.one = Math.min(found.one, value);
            else found.zero = Math.max(found.zero, value);
          }
  return found;
}
