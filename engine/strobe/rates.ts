import type { CaseSpec } from './case-overrides.ts';
import { overridesOf } from './case-overrides.ts';
import type { Design } from '../design/design.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { settledCycle } from '../estimates/cycle-limits.ts';
import { cycleEnd } from '../check/rules-drive.ts';
import { buildEnvelope, followedUntil } from './envelope.ts';
import type { CaseTrace, StrobeEnvelope } from './envelope.ts';
import type { CaseOverrides } from './case-overrides.ts';

/** Envelope of the nominal cases when cycles follow each other at another period, s. */
export interface RateEnvelope {
  readonly period: number;
  readonly envelope: StrobeEnvelope;
}

export interface RateTools {
  readonly simulate: (design: Design, options?: SimulateOptions) => Simulation;
  /** The trace of one case, referred to the sense wire; undefined when its run failed. */
  readonly trace: (spec: CaseSpec, overrides: CaseOverrides, coupling: number) => CaseTrace | undefined;
}

/** Periods that are tried besides the design's own: the shortest by estimate of the recovery, and pulses back to back. */
export function ratePeriods(design: Design): number[] {
  const tried = [settledCycle(design), cycleEnd(design)];
  return tried.filter((period, i) => period < 0.99 * (i === 0 ? design.cycle.period : tried[0]!));
}

/**
 * What the cycle rate can change of a read: the cycle before is inhibited and its tail reaches into it. The worst ONE
 * and the worst ZERO after an inhibited cycle elsewhere, and the ZERO after its own.
 */
export function rateSpecs({ mat }: Design, one: CaseSpec, zero: CaseSpec): CaseSpec[] {
  const elsewhere = mat.rows > 1 && mat.columns > 1;
  return [
    ...(elsewhere ? [one, zero].map((spec): CaseSpec => ({ ...spec, previous: 'inhibited' })) : []),
    { ...zero, previous: 'own' },
  ];
}

/**
 * The envelope at each of `ratePeriods`. Cases without a cycle before them are the same at every rate and count as
 * they were run, unless the design has a history of its own or a baseline that follows the rate: then the worst of
 * them run again.
 *
 * @param cases nominal cases as they were run, on the design's own period
 * @param worst the specs that set the envelope
 */
export function rateEnvelopes(
  design: Design,
  cases: readonly (CaseTrace & { readonly spec: CaseSpec })[],
  worst: readonly [CaseSpec, CaseSpec],
  time: Float64Array,
  search: StrobeEnvelope['search'],
  { simulate, trace }: RateTools,
): RateEnvelope[] {
  const followed = Math.min(time.length, lengthUpTo(time, followedUntil(design)));
  const times = time.slice(0, followed);
  const baseline = design.cycle.inhibitedShare !== undefined && design.amplifier.highPass > 0;
  const alone = cases.filter((c) => c.spec.previous === undefined);
  const fixed = !baseline && design.programme.length === 1;
  const again = fixed ? [] : worst;
  return ratePeriods(design).flatMap((period) => {
    const cycle = { ...design.cycle, period };
    const coupling = repetitionCoupling({ ...design, cycle }, simulate);
    const run = [...again, ...rateSpecs(design, ...worst)].map((spec) =>
      trace(spec, { ...overridesOf(design, spec), cycle: { period } }, coupling),
    );
    const traces = [...(fixed ? alone : []), ...run.filter((t) => t !== undefined)].map((t) => ({
      name: t.name,
      bit: t.bit,
      referred: t.referred.slice(0, followed),
    }));
    const whole = traces.every((t) => t.referred.length === followed);
    const both = new Set(traces.map((t) => t.bit)).size === 2;
    return whole && both ? [{ period, envelope: buildEnvelope(times, traces, search) }] : [];
  });
}

/** Samples of a uniform time axis up to and with the first at or after t. */
function lengthUpTo(time: Float64Array, t: number): number {
  const after = time.findIndex((value) => value >= t);
  return after < 0 ? time.length : after + 1;
}
