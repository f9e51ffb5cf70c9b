import { checkDesign } from '../check/check-design.ts';
import { DesignError } from '../design/design-error.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import type { Requirement, SetName } from '../design/requirement.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { runEnsemble } from '../strobe/ensemble.ts';
import type { StrobeEnsemble } from '../strobe/ensemble-result.ts';
import { makeCaseRuns } from '../strobe/case-runs.ts';
import type { EnsembleCase } from '../strobe/case-runs.ts';
import {
  buildEnvelope,
  cornerUncertainties,
  followedUntil,
  namesAt,
  strobeSearch,
  strobeUncertainties,
} from '../strobe/envelope.ts';
import type { CaseTrace, StrobeEnvelope } from '../strobe/envelope.ts';
import { passIntervals } from '../strobe/intervals.ts';
import { givenAt, windowAt } from '../strobe/window-at.ts';
import { nearestToPassing } from '../strobe/window-reason.ts';

/** A design that was tried, as far as it had to be run. */
export interface Trial {
  /** What it can give at most: the cases that set the given design's envelopes, at whatever strobe suits them best. */
  readonly atMost: Requirement;
  /** What it gives with every case that came near to setting one; runs those that are still missing. */
  readonly exact: () => Requirement;
}

/** Sets of cases that a margin is taken over; the others are told, and no change is judged by them. */
export type JudgedSet = Extract<SetName, 'nominal' | 'corners'>;

/** Ways to judge a design that departs from the given one, cheap ones first; undefined where the change is refused. */
export interface Bench {
  readonly design: Design;
  readonly ensemble: StrobeEnsemble;
  readonly sets: readonly JudgedSet[];
  /** Strobe and threshold alone have changed: no run. */
  readonly moved: (design: Design) => Trial;
  /** The cases that set the given design's envelopes at the strobe, run again. */
  readonly quick: (design: Design) => Trial | undefined;
  /** The nominal cases that set the envelope from one edge of the window to the other, run again. */
  readonly rerun: (design: Design) => StrobeEnvelope | undefined;
  /** Every case of the sets that are judged, searched anew: the same figures as a window's. */
  readonly full: (design: Design) => Requirement;
  /** What each of the sets gives with the cases that came near to setting the given design's envelopes; undefined as above. */
  readonly near: (design: Design) => readonly Requirement[] | undefined;
}

export const NOTHING: Requirement = { margin: -Infinity, width: 0 };

/** How far an ensemble must be run for these sets. */
export const casesFor = (sets: readonly JudgedSet[]): 'nominal' | 'corners' =>
  sets.includes('corners') ? 'corners' : 'nominal';

export function makeBench(
  design: Design,
  ensemble: StrobeEnsemble,
  sets: readonly JudgedSet[],
  run: (design: Design, options?: SimulateOptions) => Simulation,
): Bench {
  const { setting, across, near } = definingCasesOf(ensemble, design, sets);
  const ofEnsemble = (changed: Design, { envelope, corners }: StrobeEnsemble): Requirement =>
    leastOf(judgeEach(changed, sets, envelope, corners?.envelope));
  return {
    design,
    ensemble,
    sets,
    rerun(changed) {
      const runner = makeRunner(changed, run);
      return runner && envelopesFrom(runner, across)?.nominal;
    },
    moved(changed) {
      const has = ofEnsemble(changed, ensemble);
      return { atMost: has, exact: () => has };
    },
    quick(changed) {
      const runner = makeRunner(changed, run);
      const least = runner && envelopesFrom(runner, setting);
      if (runner === undefined || least === undefined) return undefined;
      return {
        atMost: atMost(least, runner.design, sets),
        exact() {
          const all = envelopesFrom(runner, near);
          return all ? leastOf(judgeEach(runner.design, sets, all.nominal, all.corners)) : NOTHING;
        },
      };
    },
    full: (changed) => {
      const checked = changed === design ? design : recheck(changed);
      if (checked === undefined) return NOTHING;
      const all =
        checked === design ? ensemble : runEnsemble(checked, { simulate: run, cases: casesFor(sets) });
      return 'envelope' in all ? ofEnsemble(checked, all) : NOTHING;
    },
    near(changed) {
      const runner = makeRunner(changed, run);
      const all = runner && envelopesFrom(runner, near);
      return all && judgeEach(runner.design, sets, all.nominal, all.corners);
    },
  };
}

/** Runs cases of one changed design, each once and no further than the strobe is sought. */
interface Runner {
  readonly design: Design;
  /** As it is heard: with the threshold moved by the supply, in parts of that threshold. */
  readonly trace: (item: EnsembleCase) => Float64Array | undefined;
  /** s, of the traces. */
  readonly time: Float64Array | undefined;
}

function makeRunner(
  changed: Design,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): Runner | undefined {
  const design = recheck(changed);
  if (design === undefined) return undefined;
  const runs = makeCaseRuns(design, run, {
    coupling: repetitionCoupling(design, run),
    until: followedUntil(design),
  });
  return {
    design,
    get time() {
      return runs.time;
    },
    trace: ({ spec }) => runs.add(spec)?.heard,
  };
}

interface Envelopes {
  readonly nominal: StrobeEnvelope;
  readonly corners: StrobeEnvelope;
}

function envelopesFrom(runner: Runner, cases: readonly EnsembleCase[]): Envelopes | undefined {
  const traces: (CaseTrace & { readonly corner: boolean })[] = [];
  for (const item of cases) {
    const referred = runner.trace(item);
    if (referred === undefined) return undefined;
    traces.push({ name: item.name, bit: item.bit, referred, corner: item.corner });
  }
  const search = strobeSearch(runner.design);
  const plain = traces.filter(({ corner }) => !corner);
  return {
    nominal: buildEnvelope(runner.time!, plain, search),
    corners: buildEnvelope(runner.time!, traces, search),
  };
}

/** No strobe, and no more cases, could give more than this. */
function atMost({ nominal, corners }: Envelopes, design: Design, sets: readonly JudgedSet[]): Requirement {
  const { detector, strobe } = design;
  const { threshold } = detector;
  const each = sets.map((set) => {
    const envelope = set === 'nominal' ? nominal : corners;
    const uncertainties = set === 'nominal' ? strobeUncertainties(design) : cornerUncertainties(design);
    const time = strobe.time ?? nearestToPassing(envelope, threshold, uncertainties);
    const { margin } = windowAt(envelope, { time, threshold }, uncertainties);
    const widths = passIntervals(envelope, threshold, uncertainties).map(({ start, end }) => end - start);
    return { margin: margin.left, width: Math.max(0, ...widths) };
  });
  return leastOf(each);
}

/** The lesser margin and the lesser width of several sets. */
const leastOf = (each: readonly Requirement[]): Requirement => ({
  margin: Math.min(...each.map(({ margin }) => margin)),
  width: Math.min(...each.map(({ width }) => width)),
});

/** Margin and width of each set, at the strobe that the nominal cases choose, as they are compared with what is wanted. */
function judgeEach(
  design: Design,
  sets: readonly JudgedSet[],
  nominal: StrobeEnvelope,
  corners: StrobeEnvelope | undefined,
): readonly Requirement[] {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const own = windowAt(nominal, at, strobeUncertainties(design));
  return sets.map((set) => {
    if (set === 'nominal') return givenAt(own);
    return corners ? givenAt(windowAt(corners, own.inForce, cornerUncertainties(design))) : NOTHING;
  });
}

/** A case that comes within this part of the separation of the worst one may become the worst when an input is moved. */
const NEAR = 0.15;
const MOST_NEAR = 16;

/**
 * Of the given design's cases: those that set an envelope at the strobe in force; the nominal ones that set theirs
 * anywhere from one edge of the window to the other; and those of either set that come near to the worst at the strobe.
 */
function definingCasesOf(
  { cases, envelope, uncertainties, corners }: StrobeEnsemble,
  design: Design,
  sets: readonly JudgedSet[],
): Readonly<Record<'setting' | 'across' | 'near', readonly EnsembleCase[]>> {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const { inForce, distance, margin } = windowAt(envelope, at, uncertainties);
  const seen = inForce.time - uncertainties.delay;
  const from = seen - (distance?.toStart ?? 0) - uncertainties.guard;
  const to = seen + (distance?.toEnd ?? 0) + uncertainties.guard;
  const inside = new Set(
    [...envelope.time]
      .filter((t) => t >= from && t <= to)
      .flatMap((t) => Object.values(namesAt(envelope, t))),
  );
  const counted = corners && sets.includes('corners') ? [envelope, corners.envelope] : [envelope];
  const atStrobe = new Set(counted.flatMap((each) => Object.values(namesAt(each, seen))));
  const setting = cases.filter((c) => atStrobe.has(c.name));
  const reach = NEAR * Math.abs(margin.total);
  const near = new Set(setting);
  for (const worst of setting) {
    const sign = worst.bit === 1 ? 1 : -1;
    const level = (c: EnsembleCase): number => sign * valueAt(envelope.time, c.heard, seen);
    cases
      .filter((c) => c.bit === worst.bit && c.corner === worst.corner && level(c) - level(worst) < reach)
      .sort((a, b) => level(a) - level(b))
      .slice(0, MOST_NEAR / setting.length)
      .forEach((c) => near.add(c));
  }
  return {
    setting,
    across: cases.filter((c) => !c.corner && (atStrobe.has(c.name) || inside.has(c.name))),
    near: [...near],
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
