import { anotherAddress } from '../../mat/another-address.ts';
import { referToWire } from '../../sense-amplifier/referred.ts';
import { applyPatches, valueAt, type Json, type Patch } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { cycleProgramme } from '../../drive/programme.ts';
import { finished } from '../../solver/finished.ts';
import type { Simulation } from '../../solver/result.ts';
import { applyOverrides, nameCase, overridesOf, type CaseSpec } from '../../strobe/case-overrides.ts';
import { patternCases } from '../../strobe/cases.ts';
import {
  buildEnvelope,
  strobeSearch,
  strobeUncertainties,
  type StrobeEnvelope,
} from '../../strobe/envelope.ts';
import { givenAt, reaches, windowAt } from '../../strobe/window-at.ts';
import { closedWords, shortWords } from './reading-words.ts';
import type { Point, StudyPlan, StudyTools } from './shape.ts';

/** What every study asks of one design. Numbers SI, null where there is none. */
export interface Reading {
  /** Strobe and threshold in force lie inside the opening, and what the design requires is met. */
  readonly pass: boolean;
  /** V: the smaller of (least ONE - threshold) and (threshold - greatest ZERO), less the threshold's uncertainty. */
  readonly margin: number | null;
  /** V: least ONE and greatest ZERO at the strobe, referred to the sense wire. */
  readonly one: number | null;
  readonly zero: number | null;
  /** s: the interval of strobe times that holds the strobe in force; 0 where it lies in none. */
  readonly width: number;
  readonly strobe: number;
  readonly threshold: number;
  /** Words: which limit is hit first, empty when it passes. */
  readonly reason: string;
}

/**
 * Which runs stand for a design: 'worst' the winding's worst pattern for a ONE, both extremes for a ZERO, undisturbed and disturbed
 * (six runs); 'patterns' also the given pattern and the opposites.
 */
export type StudyCases = (typeof STUDY_CASES)[number];
export const STUDY_CASES = ['worst', 'patterns'] as const;
export const runsPerReading = (cases: StudyCases): number => (cases === 'worst' ? WORST.length : 16);

/** The runs of one design and their envelope. */
export interface StudyRuns {
  readonly design: Design;
  readonly envelope: StrobeEnvelope;
  readonly runs: readonly Simulation[];
  /** What each run is. */
  readonly specs: readonly CaseSpec[];
}

/**
 * @param split keep the runs' contributions
 * @param couplings V on the amplifier's coupling capacitor before the programme: every case is run from each; left
 *   out: what the design says went before
 * @throws Error with the advice of a run that did not end well
 */
export function runCases(
  design: Design,
  cases: StudyCases,
  tools: StudyTools,
  split: boolean,
  couplings: readonly (number | undefined)[] = [undefined],
): StudyRuns {
  const each = cases === 'worst' ? WORST : patternCases(design);
  const tried = couplings.flatMap((coupling) => each.map((spec) => ({ spec, coupling })));
  const specs = tried.map(({ spec }) => spec);
  const runs = tried.map(({ spec, coupling }) => {
    const read = applyOverrides(design, overridesOf(design, spec));
    const run = tools.simulate(read, {
      contributions: split,
      estimateError: false,
      balance: false,
      until: endOfRead(read),
      coupling,
    });
    return finished(run, nameCase(spec));
  });
  const traces = runs.map((run, i) => ({
    name: nameCase(specs[i]!),
    bit: specs[i]!.bit,
    referred: referred(run),
  }));
  return { design, envelope: buildEnvelope(runs[0]!.time, traces, strobeSearch(design)), runs, specs };
}

/**
 * s from the start of the observed read to the first edge of its write or inhibit pulse: a strobe lies before it, and
 * the rest of the cycle is most of a run's cost. Infinite where the observed cycle does not read.
 */
export function endOfRead(design: Design): number {
  const last = design.programme.at(-1)!;
  if (!last.read) return Infinity;
  const { x, y, inhibit } = cycleProgramme(design, { ...last, read: false, write: 'zero' }, true);
  return Math.min(...[...x, ...y, ...inhibit].map((pulse) => pulse.on));
}

/** A detector that hears both polarities can be fooled either way, so a ZERO meets both extremes. */
const WORST: readonly CaseSpec[] = (
  [
    [1, 'worst-one'],
    [0, 'worst-zero'],
    [0, 'worst-one'],
  ] as const
).flatMap(([bit, pattern]) =>
  (['undisturbed', 'disturbed'] as const).map((state): CaseSpec => ({ bit, pattern, state })),
);

/** Amplifier output referred to the sense wire, V. */
export const referred = ({ design, amplifierOutput }: Simulation): Float64Array =>
  referToWire(design.amplifier, amplifierOutput);

/** Read an envelope with a design's strobe, threshold and uncertainties, or wider ones. */
export function readEnvelope(
  design: Design,
  envelope: StrobeEnvelope,
  uncertainties = strobeUncertainties(design),
): Reading {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const answer = windowAt(envelope, at, uncertainties);
  const { inForce, margin } = answer;
  const open = answer.distance !== undefined;
  const given = givenAt(answer);
  const pass = reaches(given, design.requirement);
  return {
    pass,
    margin: finiteOrNull(given.margin),
    one: finiteOrNull(inForce.threshold + margin.one),
    zero: finiteOrNull(inForce.threshold - margin.zero),
    width: given.width,
    strobe: inForce.time,
    threshold: inForce.threshold,
    reason: open ? (pass ? '' : shortWords(design, margin)) : closedWords(uncertainties.threshold, margin),
  };
}

export const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** Fields that move nothing but where the envelope is read. */
const READ_ONLY: ReadonlySet<string> = new Set(['/strobe/time', '/detector/threshold']);

export interface Reader {
  /** The plan's design with patches. @throws DesignError, or Error where a run did not end well. */
  readonly read: (patches: readonly Patch[]) => Reading;
}

/** Reads many variants of the plan's design; neighbours that differ in strobe or threshold alone share their runs. */
export function makeReader(plan: Pick<StudyPlan, 'design' | 'options'>, tools: StudyTools): Reader {
  let last: { readonly key: string; readonly envelope: StrobeEnvelope } | undefined;
  return {
    read(patches) {
      const design = tools.checkDesign(applyPatches(plan.design, patches));
      const key = JSON.stringify(patches.filter(({ path }) => !READ_ONLY.has(path)));
      if (last?.key !== key) last = { key, envelope: runCases(design, casesOf(plan), tools, false).envelope };
      return readEnvelope(design, last.envelope);
    },
  };
}

export const casesOf = (plan: Pick<StudyPlan, 'options'>): StudyCases => plan.options.cases as StudyCases;

/** The strobe and threshold that the nominal design is read at: its own, or the best. */
export function nominalInForce(
  design: Design,
  cases: StudyCases,
  tools: StudyTools,
): { time: number; threshold: number } {
  if (design.strobe.time !== undefined)
    return { time: design.strobe.time, threshold: design.detector.threshold };
  return strobeInForce(runCases(design, cases, tools, false));
}

/** Where runs are read: at the design's own strobe, or the best. */
export function strobeInForce({ design, envelope }: StudyRuns): { time: number; threshold: number } {
  const { strobe, threshold } = readEnvelope(design, envelope);
  return { time: strobe, threshold };
}

/** Patch that fixes the strobe where the nominal design has it. */
export function fixedStrobe(plan: Pick<StudyPlan, 'nominal'>): Patch[] {
  return plan.nominal ? [{ path: '/strobe/time', value: `${plan.nominal.time} s` }] : [];
}

/** Patch that lets the best strobe be found. */
export const freeStrobe: readonly Patch[] = [{ path: '/strobe/time' }];

/**
 * Whole cycles before the observed read, so that what they leave behind is met: writes at another address that
 * are inhibited. A design with a programme of its own keeps it.
 */
export function historyPatches(raw: Json, { selected, mat }: Design, cycles: number): Patch[] {
  if (cycles === 0 || valueAt(raw, '/programme') !== undefined) return [];
  const before = {
    ...anotherAddress(mat, selected),
    lines: 'both',
    read: true,
    write: 'zero',
  };
  const observed = {
    row: selected.row,
    column: selected.column,
    lines: 'both',
    read: true,
    write: 'restore',
  };
  return [{ path: '/programme', value: [...Array.from({ length: cycles }, () => before), observed] }];
}

/** Cycles of history that an input needs to be felt: what acts after the read acts through the cycle before. */
export function historyOf(paths: readonly string[]): 0 | 1 {
  return paths.some((path) => /^\/drive\/inhibit\/|^\/cycle\/(period|gap|writeWidth|postWrite)/u.test(path))
    ? 1
    : 0;
}

/** The raw design of a point: what the page opens on a click. */
export function pointDesign(plan: StudyPlan, point: Point): Json {
  return applyPatches(plan.design, point.patches);
}
