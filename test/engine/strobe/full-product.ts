import type { Design } from '../../../engine/design/design.ts';
import { repetitionCoupling } from '../../../engine/sense-amplifier/repetition.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate as atFull } from '../../../engine/simulate/simulate.ts';
import { applyOverrides, overridesOf } from '../../../engine/strobe/case-overrides.ts';
import type { CaseSpec } from '../../../engine/strobe/case-overrides.ts';
import { caseSpace } from '../../../engine/strobe/cases.ts';
import { followedUntil } from '../../../engine/strobe/envelope.ts';

/** A trace of one case: V at the sense wire at an instant (s) of the strobe, of a moved supply in parts of the moved threshold. */
export interface ProductTrace {
  readonly bit: 0 | 1;
  readonly at: (strobe: number) => number;
  /** s between samples. */
  readonly step: number;
}

/**
 * Every case of the product (patterns, histories, addresses, corners), each run by itself.
 * @param simulate computes one run, by default as finely as the design says
 */
export function* productTraces(design: Design, simulate = atFull): Generator<ProductTrace> {
  const { patterns, histories, addresses, corners } = caseSpace(design);
  const coupling = repetitionCoupling(design, simulate);
  const until = followedUntil(design);
  const { divider, gain } = design.amplifier;
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
            const referred = divider * gain * (spec.supply ?? 1);
            const at = (strobe: number): number =>
              valueAt(time, amplifierOutput, strobe - design.detector.delay) / referred;
            yield { bit, at, step: time[1]! - time[0]! };
          }
}

/** Least ONE and greatest ZERO at a strobe over every case of the product, V at the sense wire. */
export function fullProduct(
  design: Design,
  strobe: number,
  simulate = atFull,
): { one: number; zero: number; runs: number } {
  const found = { one: Infinity, zero: -Infinity, runs: 0 };
  for (const { bit, at } of productTraces(design, simulate)) {
    found.runs++;
    if (bit === 1) found.one = Math.min(found.one, at(strobe));
    else found.zero = Math.max(found.zero, at(strobe));
  }
  return found;
}
