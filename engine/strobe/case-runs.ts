import { referToWire } from '../sense-amplifier/referred.ts';
import { applyOverrides, describeCase, nameCase, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { Design } from '../design/design.ts';
import type { Outcome, SimulateOptions, Simulation } from '../solver/result.ts';
import type { CaseOverrides } from './case-overrides.ts';

/** One case of the ensemble, run. */
export interface EnsembleCase {
  readonly spec: CaseSpec;
  readonly name: string;
  readonly pattern: string;
  readonly bit: 0 | 1;
  readonly overrides: CaseOverrides;
  /** V: amplifier output referred to the sense wire. */
  readonly referred: Float64Array;
  /** The same as it counts in an envelope: with the threshold moved by the supply, in parts of that threshold. */
  readonly heard: Float64Array;
  /** As it is heard, before an amplifier that hears both polarities turns it: by the selected core's planned polarity. */
  readonly signed: Float64Array;
  readonly corner: boolean;
  /** How much finer than the design says it was run (SimulateOptions.finer). */
  readonly finer: number;
}

export interface FailedCase {
  readonly name: string;
  readonly outcome: Outcome;
}

/** Runs the cases of one design, each once. */
export interface CaseRuns {
  readonly cases: readonly EnsembleCase[];
  readonly failed: readonly FailedCase[];
  /** s, of every trace; undefined before the first run that was completed. */
  readonly time: Float64Array | undefined;
  /** Runs a case, unless it was run at least as finely already; undefined where its run failed. */
  add(spec: CaseSpec, finer?: number): EnsembleCase | undefined;
  /** Runs a case again, finer, in its place. */
  refine(item: EnsembleCase, finer: number): void;
  /** Runs a patch of the design as the cases are run. */
  simulate(overrides: CaseOverrides, options?: SimulateOptions): Simulation;
  /** Runs another design as the cases are run. */
  simulateDesign(design: Design, options?: SimulateOptions): Simulation;
  /** The amplifier's output of a run, V at the sense wire; undefined, and kept as failed, where the run is not done. */
  refer(name: string, run: Simulation): Float64Array | undefined;
}

/** Runs that are at hand already, of a design that differs in nothing but strobe time, threshold and what is required. */
export type RunsAtHand = Pick<CaseRuns, 'cases' | 'time'>;

/**
 * How fine the runs of a search are (SimulateOptions.finer): steps twice as long, wires of half the sections. It costs
 * half, and on the demo designs it moves a margin at the corners by 4 uV at most; the cases that set an envelope are
 * run again at full before anything is read from them.
 */
export const SEARCHED = 0.5;

/**
 * @param coupling V on the coupling capacitor before every case
 * @param until s: no run goes further
 * @param finer of every run for which nothing else is said
 * @param atHand taken where the same case is asked for as finely, followed as far and with the same `coupling`; what is
 *   not asked for is not counted, so the answer is that without them
 */
export function makeCaseRuns(
  design: Design,
  run: (design: Design, options?: SimulateOptions) => Simulation,
  {
    atHand,
    ...how
  }: Pick<SimulateOptions, 'coupling' | 'until' | 'cancelled' | 'finer'> & { readonly atHand?: RunsAtHand },
): CaseRuns {
  const cases: EnsembleCase[] = [];
  const known = new Map<string, EnsembleCase | undefined>();
  const earlier = new Map(atHand?.cases.map((item) => [item.name, item]));
  const failed: FailedCase[] = [];
  const either = design.amplifier.polarity === 'either';
  const byAddress: Design = either
    ? { ...design, amplifier: { ...design.amplifier, polarity: 'address' } }
    : design;
  const rectified = (trace: Float64Array): Float64Array => (either ? trace.map(Math.abs) : trace);
  const common: SimulateOptions = { contributions: false, estimateError: false, balance: false, ...how };
  const runs = {
    cases,
    failed,
    time: undefined as Float64Array | undefined,
    add(spec: CaseSpec, finer = common.finer ?? 1): EnsembleCase | undefined {
      const name = nameCase(spec);
      const before = known.get(name);
      if (before && before.finer < finer) runs.refine(before, finer);
      if (known.has(name)) return known.get(name);
      const made = make(spec, name, finer);
      known.set(name, made);
      if (made) cases.push(made);
      return made;
    },
    refine(item: EnsembleCase, finer: number): void {
      const made = make(item.spec, item.name, finer);
      if (made === undefined) return;
      known.set(item.name, made);
      cases[cases.indexOf(item)] = made;
    },
    simulate: (overrides: CaseOverrides, options: SimulateOptions = {}): Simulation =>
      runs.simulateDesign(applyOverrides(design, overrides), options),
    simulateDesign: (other: Design, options: SimulateOptions = {}): Simulation =>
      run(other, { ...common, ...options }),
    refer(name: string, done: Simulation): Float64Array | undefined {
      if (done.outcome.kind !== 'done') {
        failed.push({ name, outcome: done.outcome });
        return undefined;
      }
      runs.time ??= done.time;
      return referToWire(done.design.amplifier, done.amplifierOutput);
    },
  };
  return runs;

  function make(spec: CaseSpec, name: string, finer: number): EnsembleCase | undefined {
    const overrides = overridesOf(design, spec);
    const ready = earlier.get(name);
    if (ready?.finer === finer) {
      runs.time ??= atHand!.time;
      return { ...ready, overrides };
    }
    const turned = runs.refer(name, run(applyOverrides(byAddress, overrides), { ...common, finer }));
    if (turned === undefined) return undefined;
    const signed = spec.supply === undefined ? turned : turned.map((value) => value / spec.supply!);
    return {
      spec,
      name,
      pattern: describeCase(spec),
      bit: spec.bit,
      overrides,
      referred: rectified(turned),
      heard: rectified(signed),
      signed,
      corner: [spec.drive, spec.supply, spec.temperature].some((value) => value !== undefined),
      finer,
    };
  }
}
