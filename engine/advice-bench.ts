import { applyOverrides } from './case-overrides.ts';
import { checkDesign } from './check-design.ts';
import { DesignError } from './design-error.ts';
import { designToJson } from './design-to-json.ts';
import type { Design } from './design.ts';
import { repetitionCoupling } from './repetition.ts';
import type { SimulateOptions, Simulation } from './result.ts';
import { definingCases, runEnsemble } from './strobe-ensemble.ts';
import type { EnsembleCase, StrobeEnsemble } from './strobe-ensemble.ts';
import { buildEnvelope, strobeSearch, strobeUncertainties } from './strobe-envelope.ts';
import type { StrobeEnvelope } from './strobe-envelope.ts';
import { windowAt } from './window-at.ts';

export interface Wanted {
  /** V: the smaller of least ONE over threshold and threshold over greatest ZERO, less the detector's uncertainty. */
  readonly margin: number;
  /** s: the interval that holds the strobe in force. */
  readonly width: number;
}

/** Ways to judge a design that departs from the given one, cheap ones first. */
export interface Bench {
  readonly design: Design;
  readonly ensemble: StrobeEnsemble;
  /** Strobe and threshold alone have changed: no run. */
  readonly moved: (design: Design) => Wanted;
  /** The patterns that define the given design's envelope, run again; undefined where the change is refused. */
  readonly quick: (design: Design) => Wanted | undefined;
  readonly rerun: (design: Design) => StrobeEnvelope | undefined;
  /** Every pattern and disturb state. */
  readonly full: (design: Design) => Wanted;
}

export const NOTHING: Wanted = { margin: -Infinity, width: 0 };

export function makeBench(
  design: Design,
  ensemble: StrobeEnsemble,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): Bench {
  const defining = definingPatterns(ensemble, design);
  const rerun = (changed: Design): StrobeEnvelope | undefined => {
    const checked = recheck(changed);
    if (checked === undefined) return undefined;
    const coupling = repetitionCoupling(checked, run);
    const search = strobeSearch(checked);
    const runs = defining.map((c) =>
      run(applyOverrides(checked, c.overrides), {
        contributions: false,
        estimateError: false,
        coupling,
        until: search.end + checked.detector.delay,
      }),
    );
    if (runs.some((r) => r.outcome.kind !== 'done')) return undefined;
    const scale = 1 / (checked.amplifier.divider * checked.amplifier.gain);
    const traces = runs.map((r, i) => ({
      name: defining[i].name,
      bit: defining[i].bit,
      referred: r.amplifierOutput.map((value) => value * scale),
    }));
    return buildEnvelope(runs[0].time, traces, search);
  };
  return {
    design,
    ensemble,
    rerun,
    moved: (changed) => judge(ensemble.envelope, changed),
    quick: (changed) => {
      const envelope = rerun(changed);
      return envelope && judge(envelope, changed);
    },
    full: (changed) => {
      const checked = changed === design ? design : recheck(changed);
      if (checked === undefined) return NOTHING;
      const all = checked === design ? ensemble : runEnsemble(checked, { simulate: run, cases: 'quick' });
      return 'envelope' in all ? judge(all.envelope, checked) : NOTHING;
    },
  };
}

/** Margin and width as they are compared with what is wanted. */
function judge(envelope: StrobeEnvelope, design: Design): Wanted {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { margin, distance } = windowAt(envelope, at, strobeUncertainties(design));
  return {
    margin: Math.min(margin.one, margin.zero) - design.detector.uncertainty,
    width: distance ? distance.toStart + distance.toEnd : 0,
  };
}

export const reaches = (has: Wanted, wanted: Wanted): boolean =>
  has.margin >= wanted.margin && has.width >= wanted.width && has.width > 0;

/** The cases that set the envelope at the strobe in force, and the same patterns in the other disturb state. */
function definingPatterns(ensemble: StrobeEnsemble, design: Design): readonly EnsembleCase[] {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { inForce } = windowAt(ensemble.envelope, at, ensemble.uncertainties);
  const { one, zero } = definingCases(ensemble.envelope, inForce.time - ensemble.uncertainties.delay);
  const { names } = ensemble.envelope.sets!;
  const setting = ensemble.cases.filter((c) => c.name === names[one] || c.name === names[zero]);
  return ensemble.cases.filter((c) =>
    setting.some((s) => s.bit === c.bit && s.spec.pattern === c.spec.pattern),
  );
}

/** The design through the check again; undefined where it is refused. */
export function recheck(changed: Design): Design | undefined {
  try {
    return checkDesign(designToJson(changed));
  } catch (error) {
    if (error instanceof DesignError) return undefined;
    throw error;
  }
}

/** Strobe in force of the given design. */
export function strobeOf({ design, ensemble }: Bench): number {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return windowAt(ensemble.envelope, at, ensemble.uncertainties).inForce.time;
}
