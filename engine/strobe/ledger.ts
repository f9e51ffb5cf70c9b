import { coreUncertainty } from '../core/unknowns/core-uncertainty.ts';
import type { Design } from '../design/design.ts';
import { askedDrive } from '../drive/at-temperature.ts';
import { pointerParts } from '../base/json-patch.ts';
import { assumedFields } from '../estimates/assumed-fields.ts';
import type { AssumedField } from '../estimates/assumed-fields.ts';
import { applyOverrides, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { CaseRuns, EnsembleCase } from './case-runs.ts';
import { cornerUncertainties, strobeUncertainties } from './envelope.ts';
import { coreField } from './ledger-at.ts';
import type { CaseOverrides } from './case-overrides.ts';
import type { LedgerRun } from './ledger-run.ts';
import type { EndTraces } from './ledger-run.ts';

/**
 * Runs the cases that decide again with each assumed field at both ends of its range.
 *
 * @param setting the ONE and the ZERO that decide; @param corners do the corners count?
 */
export function runLedger(
  design: Design,
  runs: CaseRuns,
  setting: { readonly one: EnsembleCase; readonly zero: EnsembleCase },
  corners: boolean,
): LedgerRun[] {
  const traces = (changed: Design): EndTraces | undefined => {
    const [one, zero] = [setting.one, setting.zero].map(({ spec, name }) => {
      const moved = followTolerances(spec, design, changed);
      const read = applyOverrides(changed, overridesOf(changed, moved));
      const referred = runs.refer(name, runs.simulateDesign(read));
      return referred?.map((value) => value / (moved.supply ?? 1));
    });
    const uncertainties = corners ? cornerUncertainties(changed) : strobeUncertainties(changed);
    return one && zero ? { one, zero, uncertainties } : undefined;
  };
  return assumedFields(design).flatMap(({ field, value, from, low, high }) => {
    const ends = [low, high].map((end) => traces(applyOverrides(design, patchOf(field, end))));
    const [atLow, atHigh] = ends;
    return atLow && atHigh ? [{ field, value, from, low, high, ends: [atLow, atHigh] as const }] : [];
  });
}

/** All that was not given of a design, before anything is run: its fields in their order, then its core. */
export function assumptions(design: Design): AssumedField[] {
  const open = coreUncertainty(design.core, askedDrive(design)).filter(({ from }) => from !== 'given');
  return [...assumedFields(design), ...open.map(coreField)];
}

/** A case at a corner of the design, at the corner of one whose tolerances are others. */
function followTolerances(spec: CaseSpec, design: Design, changed: Design): CaseSpec {
  const [before, after] = [design.tolerances, changed.tolerances];
  const scale = (value: number | undefined, middle: number, factor: number): number | undefined =>
    value === undefined ? undefined : middle + (value - middle) * factor;
  const part = (now: number, then: number): number => (then > 0 ? now / then : 1);
  return {
    ...spec,
    drive: scale(spec.drive, 1, part(after.drive, before.drive)),
    supply: scale(spec.supply, 1, part(after.supply, before.supply)),
    temperature: scale(spec.temperature, design.temperature, part(after.temperature, before.temperature)),
  };
}

function patchOf(pointer: string, value: number): CaseOverrides {
  const parts = pointerParts(pointer) ?? [];
  return parts.reduceRight<unknown>((inner, part) => ({ [part]: inner }), value) as CaseOverrides;
}
