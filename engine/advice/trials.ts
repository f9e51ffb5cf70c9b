import { applyOverrides } from '../strobe/case-overrides.ts';
import { checkDesign } from '../check/check-design.ts';
import { DesignError } from '../design/design-error.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design, Requirement } from '../design/design.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { runEnsemble } from '../strobe/ensemble.ts';
import type { EnsembleCase, StrobeEnsemble } from '../strobe/ensemble.ts';
import { buildEnvelope, definingCases, strobeSearch, strobeUncertainties } from '../strobe/envelope.ts';
import type { CaseTrace, StrobeEnvelope } from '../strobe/envelope.ts';
import { passIntervals } from '../strobe/intervals.ts';
import { givenAt, windowAt } from '../strobe/window-at.ts';
import { nearestToPassing } from '../strobe/window-reason.ts';

/** A design that was tried, as far as it had to be run. */
export interface Trial {
  /** What it can give at most: the cases that set the given design's envelope, at whatever strobe suits them best. */
  readonly atMost: Requirement;
  /** What it gives with every case that `Bench.quick` runs; runs those that are still missing. */
  readonly exact: () => Requirement;
}

/** Ways to judge a design that departs from the given one, cheap ones first; undefined where the change is refused. */
export interface Bench {
  readonly design: Design;
  readonly ensemble: StrobeEnsemble;
  /** Strobe and threshold alone have changed: no run. */
  readonly moved: (design: Design) => Trial;
  /** The patterns that define the given design's envelope, run again. */
  readonly quick: (design: Design) => Trial | undefined;
  /** The cases that set the envelope from one edge of the window to the other, run again. */
  readonly rerun: (design: Design) => StrobeEnvelope | undefined;
  /** Every pattern and disturb state. */
  readonly full: (design: Design) => Requirement;
}

export const NOTHING: Requirement = { margin: -Infinity, width: 0 };

export function makeBench(
  design: Design,
  ensemble: StrobeEnsemble,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): Bench {
  const { setting, across, patterns } = definingCasesOf(ensemble, design);
  return {
    design,
    ensemble,
    rerun(changed) {
      const runner = makeRunner(changed, run);
      return runner && envelopeFrom(runner, across);
    },
    moved(changed) {
      const has = judge(ensemble.envelope, changed);
      return { atMost: has, exact: () => has };
    },
    quick(changed) {
      const runner = makeRunner(changed, run);
      const least = runner && envelopeFrom(runner, setting);
      if (runner === undefined || least === undefined) return undefined;
      return {
        atMost: atMost(least, runner.design),
        exact() {
          const envelope = envelopeFrom(runner, patterns);
          return envelope ? judge(envelope, runner.design) : NOTHING;
        },
      };
    },
    full: (changed) => {
      const checked = changed === design ? design : recheck(changed);
      if (checked === undefined) return NOTHING;
      const all = checked === design ? ensemble : runEnsemble(checked, { simulate: run, cases: 'quick' });
      return 'envelope' in all ? judge(all.envelope, checked) : NOTHING;
    },
  };
}

/** Runs cases of one changed design, each once and no further than the strobe is sought. */
interface Runner {
  readonly design: Design;
  readonly trace: (item: EnsembleCase) => Float64Array | undefined;
  /** s, of the traces. */
  time: Float64Array | undefined;
}

function makeRunner(
  changed: Design,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): Runner | undefined {
  const design = recheck(changed);
  if (design === undefined) return undefined;
  const coupling = repetitionCoupling(design, run);
  const until = strobeSearch(design).end + design.detector.delay;
  const scale = 1 / (design.amplifier.divider * design.amplifier.gain);
  const done = new Map<string, Float64Array | undefined>();
  const runner: Runner = {
    design,
    time: undefined,
    trace({ name, overrides }) {
      if (done.has(name)) return done.get(name);
      const options = { contributions: false, estimateError: false, balance: false, coupling, until };
      const { outcome, amplifierOutput, time } = run(applyOverrides(design, overrides), options);
      runner.time ??= time;
      const trace = outcome.kind === 'done' ? amplifierOutput.map((value) => value * scale) : undefined;
      done.set(name, trace);
      return trace;
    },
  };
  return runner;
}

function envelopeFrom(runner: Runner, cases: readonly EnsembleCase[]): StrobeEnvelope | undefined {
  const traces: CaseTrace[] = [];
  for (const item of cases) {
    const referred = runner.trace(item);
    if (referred === undefined) return undefined;
    traces.push({ name: item.name, bit: item.bit, referred });
  }
  return buildEnvelope(runner.time!, traces, strobeSearch(runner.design));
}

/** No strobe, and no more cases, could give more than this. */
function atMost(envelope: StrobeEnvelope, design: Design): Requirement {
  const { detector, strobe } = design;
  const { threshold } = detector;
  const uncertainties = strobeUncertainties(design);
  const time = strobe.time ?? nearestToPassing(envelope, threshold, uncertainties);
  const { margin } = windowAt(envelope, { time, threshold }, uncertainties);
  const widths = passIntervals(envelope, threshold, uncertainties).map(({ start, end }) => end - start);
  return {
    margin: margin.left,
    width: Math.max(0, ...widths),
  };
}

/** Margin and width as they are compared with what is wanted. */
function judge(envelope: StrobeEnvelope, design: Design): Requirement {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  return givenAt(windowAt(envelope, at, strobeUncertainties(design)));
}

/**
 * Of the given design's cases: those that set the envelope at the strobe in force; those that set it anywhere from one
 * edge of the window to the other; and the patterns of the first in every disturb state and history.
 */
function definingCasesOf(
  { cases, envelope, uncertainties }: StrobeEnsemble,
  design: Design,
): Readonly<Record<'setting' | 'across' | 'patterns', readonly EnsembleCase[]>> {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { inForce, distance } = windowAt(envelope, at, uncertainties);
  const { names } = envelope.sets!;
  const from = inForce.time - uncertainties.delay - (distance?.toStart ?? 0) - uncertainties.guard;
  const to = inForce.time - uncertainties.delay + (distance?.toEnd ?? 0) + uncertainties.guard;
  const setAt = (t: number): string[] => {
    const { one, zero } = definingCases(envelope, t);
    return [names[one], names[zero]];
  };
  const atStrobe = new Set(setAt(inForce.time - uncertainties.delay));
  const inside = new Set([...envelope.time].filter((t) => t >= from && t <= to).flatMap(setAt));
  const setting = cases.filter((c) => atStrobe.has(c.name));
  return {
    setting,
    across: cases.filter((c) => atStrobe.has(c.name) || inside.has(c.name)),
    patterns: cases.filter((c) => setting.some((s) => s.bit === c.bit && s.spec.pattern === c.spec.pattern)),
  };
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
