import { listDesignFields } from '../design/list-design-fields.ts';
import type { Design } from '../design/design.ts';
import { designToJson } from '../design/design-to-json.ts';
import { pointerParts, valueAt as fieldAt } from '../base/json-patch.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import { applyOverrides, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { CaseRuns, EnsembleCase } from './case-runs.ts';
import type { CoreSet } from './core-set.ts';
import { cornerUncertainties, strobeUncertainties } from './envelope.ts';
import type { StrobeUncertainties } from './envelope.ts';
import type { CaseOverrides } from './window-result.ts';

/**
 * What decides the answer and was not given: every field that a file left to its default, to the geometry of its wires or
 * to a preset, with what one honest range of it does to the margin.
 */
export interface LedgerEntry {
  /** JSON pointer into the design. */
  readonly field: string;
  /** SI. */
  readonly value: number;
  readonly from: 'given' | 'measured' | 'geometry' | 'handbook' | 'preset' | 'default';
  /** SI: ends of the range. */
  readonly low: number;
  readonly high: number;
  /** V: the margin at both ends, strobe and threshold as they are. */
  readonly marginLow: number;
  readonly marginHigh: number;
}

/**
 * How far a default may honestly be off, as factors of it. Our own judgement (no source): twice either way where a value
 * depends on how a mat is laid out, a third where a part's type decides it.
 */
const RANGES: Readonly<Record<string, readonly [number, number]>> = {
  '/wire/resistancePerCore': [0.8, 1.25],
  '/wire/inductancePerCore': [0.7, 1.4],
  '/wire/capacitancePerCore': [0.5, 2],
  '/wire/lossTime': [0.3, 3],
  '/wire/mutualX': [0.5, 2],
  '/wire/mutualY': [0.5, 2],
  '/wire/couplingCapacitance': [0.5, 2],
  '/drive/x/rise': [0.7, 1.5],
  '/drive/y/rise': [0.7, 1.5],
  '/amplifier/bandwidth': [0.7, 1.5],
  '/amplifier/recovery': [0.3, 3],
  '/amplifier/commonModeRejection': [0.7, 1.3],
  '/detector/uncertainty': [0.5, 2],
  '/detector/hysteresis': [0.5, 2],
  '/tolerances/drive': [0.5, 2],
  '/tolerances/supply': [0.5, 2.5],
  '/tolerances/temperature': [0.67, 1.67],
  '/tolerances/threshold': [0.5, 2],
};

/** Least ONE and greatest ZERO of the cases that decide, with one field at an end of its range. */
interface EndTraces {
  readonly one: Float64Array;
  readonly zero: Float64Array;
  readonly uncertainties: StrobeUncertainties;
}

export interface LedgerRun {
  readonly field: string;
  readonly value: number;
  readonly from: LedgerEntry['from'];
  readonly low: number;
  readonly high: number;
  readonly ends: readonly [EndTraces, EndTraces];
}

/** Fields that were left to a default or worked out, with their value. */
function assumed(design: Design): { field: string; value: number; from: LedgerEntry['from'] }[] {
  const file = designToJson(design);
  const filled = (design as { readonly filled?: Readonly<Record<string, { from: LedgerEntry['from'] }>> })
    .filled;
  return listDesignFields().flatMap(({ pointer, default: usual }) => {
    const value = fieldAt(design, pointer);
    if (RANGES[pointer] === undefined || typeof value !== 'number' || !Number.isFinite(value) || value === 0)
      return [];
    const from = filled?.[pointer]?.from;
    const left = from !== undefined || (usual !== undefined && sameText(fieldAt(file, pointer), usual));
    return left ? [{ field: pointer, value, from: from ?? ('default' as const) }] : [];
  });
}

/** 40 ns and 0.04 us need not be the same text; a design written anew has the default's own spelling. */
const sameText = (value: unknown, usual: unknown): boolean =>
  value === usual || JSON.stringify(value) === JSON.stringify(usual);

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
  return assumed(design).flatMap(({ field, value, from }) => {
    const [low, high] = RANGES[field]!.map((factor) => value * factor) as [number, number];
    const ends = [low, high].map((end) => traces(applyOverrides(design, patchOf(field, end))));
    const [atLow, atHigh] = ends;
    return atLow && atHigh ? [{ field, value, from, low, high, ends: [atLow, atHigh] as const }] : [];
  });
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

/** The ledger at a strobe and threshold, what matters most first; core parameters from the core set, where it was run. */
export function ledgerAt(
  entries: readonly LedgerRun[],
  core: CoreSet | undefined,
  time: Float64Array,
  uncertainties: StrobeUncertainties,
  at: { readonly time: number; readonly threshold: number },
): LedgerEntry[] {
  const margin = ({ one, zero }: Pick<EndTraces, 'one' | 'zero'>, u: StrobeUncertainties): number => {
    const seen = at.time - u.delay;
    const level = at.threshold + u.slope * Math.max(0, seen);
    return Math.min(valueAt(time, one, seen) - level, level - valueAt(time, zero, seen)) - u.threshold;
  };
  const fields = entries.map(({ ends, ...entry }): LedgerEntry => {
    const [marginLow, marginHigh] = ends.map((end) => margin(end, end.uncertainties)) as [number, number];
    return { ...entry, marginLow, marginHigh };
  });
  const cores = (core?.ends ?? []).flatMap(({ of, low, high }): LedgerEntry[] => {
    if (low === undefined || high === undefined || of.from === 'given') return [];
    const from = of.from === 'assumed' ? 'default' : (of.from as LedgerEntry['from']);
    const name = of.parameter.includes(' ') ? `/core/test` : `/core/parameters/${of.parameter}`;
    return [
      {
        field: name,
        value: of.value,
        from,
        low: of.low,
        high: of.high,
        marginLow: margin(low, uncertainties),
        marginHigh: margin(high, uncertainties),
      },
    ];
  });
  const telling = ({ marginLow, marginHigh }: LedgerEntry): number => Math.abs(marginHigh - marginLow);
  return [...fields, ...cores].sort((a, b) => telling(b) - telling(a));
}
