import type { Design } from '../design/design.ts';
import { constraints } from '../estimates/constraints.ts';
import type { Constraint } from '../estimates/constraints/constraint.ts';
import { cycleLimits } from '../estimates/cycle-limits.ts';
import { softestCore } from '../estimates/softest-core.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { applyOverrides, nameCase, overridesOf, type CaseSpec } from '../strobe/case-overrides.ts';
import { makeCaseRuns, SEARCHED, type CaseRuns } from '../strobe/case-runs.ts';
import { caseSpace, quickCases } from '../strobe/cases.ts';
import {
  buildEnvelope,
  definingCases,
  followedUntil,
  strobeSearch,
  type StrobeEnvelope,
} from '../strobe/envelope.ts';
import { addWorst, caseSearches } from '../strobe/find-cases.ts';
import type { Needs } from './needs.ts';
import { boxOf, reserveOf, type Reserve, type WeakEnvelope } from './reserve.ts';

export type Run = (design: Design, options?: SimulateOptions) => Simulation;

/** One thing that a build does not keep to, or that holds it back. */
export interface Bind {
  /** A code of `check`, or `cycle` or `softest-core`. */
  readonly code: Constraint['code'] | 'cycle' | 'softest-core';
  readonly used: number;
  readonly limit: number;
  readonly unit: Constraint['unit'];
  /** used/limit - 1; over 0 it does not hold. */
  readonly excess: number;
}

/** A build as far as it was judged. */
export interface Judged extends Reserve {
  /** What the search makes greater: the reserve less penalties; at least 1 where the build does all that is asked for. */
  readonly value: number;
  /** What does not hold or comes within a tenth of its limit, worst first. */
  readonly binding: readonly Bind[];
  /** Cases that set the box. */
  readonly setBy: readonly CaseSpec[];
}

/** What `check` only warns of: a search need not keep to it, and it is told with the build. */
const SOFT: ReadonlySet<Constraint['code']> = new Set([
  'core-heat',
  'mismatch',
  'strobe-outside-read',
  'threshold-above-one',
]);
/** What a rule of build.ts sets to just what is needed: no news where it holds. */
const BY_RULE: ReadonlySet<Bind['code']> = new Set([
  'inhibit-late',
  'inhibit-short',
  'read-incomplete',
  'write-incomplete',
  'reservoir',
  'inhibit-volts',
  'supply-voltage',
]);
/** A constraint closer than this to its limit is told as binding. */
const NEAR = 0.1;
/** What a broken constraint costs of the reserve: at once, and times its excess. */
const PENALTY = { step: 0.1, slope: 10 } as const;

/** Everything that a build must keep to beside its reserve; no run. */
export function bindings(needs: Needs, design: Design): readonly Bind[] {
  const soft = softestCore(design);
  const kept = Math.min(soft.one, soft.zero);
  const { timing } = cycleLimits(design);
  const own: Bind[] = [
    { code: 'softest-core', used: soft.least, limit: kept, unit: '1', excess: soft.least - kept },
    { code: 'cycle', used: timing, limit: needs.cycle, unit: 's', excess: timing / needs.cycle - 1 },
  ];
  const all = constraints(design)
    .filter(({ code }) => !SOFT.has(code) && code !== 'recovery')
    .map(({ code, used, limit, unit, excess }) => ({ code, used, limit, unit, excess }));
  return [...own, ...all]
    .filter(({ code, excess }) => excess > (BY_RULE.has(code) ? 1e-9 : -NEAR))
    .sort((a, b) => b.excess - a.excess);
}

export const penaltyOf = (binding: readonly Bind[]): number =>
  binding.reduce((sum, { excess }) => sum + (excess > 1e-9 ? PENALTY.step + PENALTY.slope * excess : 0), 0);

/** The cases that a search starts from: the worst patterns at the ends where they are worst. */
export function firstCases(design: Design): readonly CaseSpec[] {
  const { corners } = caseSpace(design);
  const ends = corners.filter(({ drive, supply }) => same(drive, supply));
  const at = (spec: CaseSpec, low: boolean): CaseSpec[] =>
    ends.flatMap((corner) =>
      (corner.drive ?? corner.supply ?? 1) < 1 === low ? [{ ...spec, ...corner }] : [],
    );
  const { one, zero } = {
    one: { bit: 1, pattern: 'worst-one', state: 'undisturbed' },
    zero: { bit: 0, pattern: 'worst-zero', state: 'disturbed', previous: 'own' },
  } as const;
  return [
    ...at(one, true),
    ...at({ ...one, state: 'disturbed' }, true),
    ...at(zero, false),
    ...at({ ...one, bit: 0, pattern: 'worst-zero' }, false),
  ];
}

/** Both at the same end. */
const same = (a: number | undefined, b: number | undefined): boolean =>
  a === undefined || b === undefined || a < 1 === b < 1;

/** A design judged by these cases alone, at the strobe and threshold that suit it best. */
export function judge(needs: Needs, design: Design, cases: readonly CaseSpec[], run: Run): Judged {
  const runs = runsOf(design, run);
  for (const spec of cases.map((spec) => hereOf(design, spec))) runs.add(spec);
  return judged(needs, design, runs, run);
}

/** The same by the worst of all cases at all corners, as the strobe window counts them. */
export function judgeWhole(needs: Needs, design: Design, cases: readonly CaseSpec[], run: Run): Judged {
  const runs = runsOf(design, run);
  for (const spec of [...quickCases(design), ...cases.map((spec) => hereOf(design, spec))]) runs.add(spec);
  const { time } = runs;
  if (time === undefined) return judged(needs, design, runs, run);
  const box = boxOf(design);
  const weak = weakEnvelope(design, runs, run);
  addWorst(caseSearches(design, runs, time), () => {
    const { reserve, strobe } = reserveOf(envelopeOf(design, runs), weak, box);
    const reach = Math.max(0, reserve) * box.width;
    return [0, -reach, reach].map((off) => strobe - box.delay + off);
  });
  return judged(needs, design, runs, run, weak);
}

/** A case of another build of the same combination: its corner moved to where this build has it. */
function hereOf(design: Design, spec: CaseSpec): CaseSpec {
  const { corners } = caseSpace(design);
  if (spec.drive === undefined && spec.supply === undefined && spec.temperature === undefined) return spec;
  const like = corners.find(
    (corner) =>
      side(corner.drive, 1) === side(spec.drive, 1) &&
      side(corner.supply, 1) === side(spec.supply, 1) &&
      corner.temperature === spec.temperature,
  );
  return like ? { ...spec, ...like } : spec;
}

const side = (value: number | undefined, middle: number): number =>
  value === undefined ? 0 : Math.sign(value - middle);

const runsOf = (design: Design, run: Run): CaseRuns =>
  makeCaseRuns(design, run, {
    coupling: repetitionCoupling(design, run),
    until: followedUntil({ ...design, strobe: { ...design.strobe, time: undefined } }),
    finer: SEARCHED,
  });

const envelopeOf = (design: Design, { time, cases }: CaseRuns): StrobeEnvelope =>
  buildEnvelope(
    time!,
    cases.map(({ name, bit, heard: referred }) => ({ name, bit, referred })),
    strobeSearch(design),
  );

function judged(needs: Needs, design: Design, runs: CaseRuns, run: Run, known?: WeakEnvelope): Judged {
  const binding = bindings(needs, design);
  const bits = new Set(runs.cases.map(({ bit }) => bit));
  if (bits.size < 2 || runs.failed.length > 0)
    return { reserve: -10, value: -10, strobe: 0, threshold: 1e-3, binding, setBy: [] };
  const envelope = envelopeOf(design, runs);
  const box = boxOf(design);
  const found = reserveOf(envelope, known ?? weakEnvelope(design, runs, run), box);
  const reach = Math.max(0, found.reserve) * box.width;
  const setting = new Set(
    [0, -reach, reach].flatMap((off) => {
      const { one, zero } = definingCases(envelope, found.strobe - box.delay + off);
      return [one, zero];
    }),
  );
  return {
    ...found,
    value: found.reserve - penaltyOf(binding),
    binding,
    setBy: [...setting].map((index) => runs.cases[index]!.spec),
  };
}

/**
 * What the weakest core of a stack gives, drives as stated, at both ends of the temperature: a ONE of little flux or high
 * thresholds, a ZERO of low ones, so many standard deviations out as the wanted share of stacks allows.
 */
function weakEnvelope(design: Design, runs: CaseRuns, run: Run): WeakEnvelope {
  const { tolerances, selected, temperature } = design;
  const { sigmas } = softestCore(design);
  const ends = tolerances.temperature > 0 ? [-1, 1] : [0];
  const core = { ...selected, missing: false, reversed: false, fluxFactor: 1, thresholdFactor: 1, bias: 0 };
  const weak = (bit: 0 | 1, flux: number, threshold: number): Float64Array[] =>
    ends.flatMap((end) => {
      const { row, column } = selected;
      const exception = { ...core, row, column, fluxFactor: 1 + flux, thresholdFactor: 1 + threshold };
      const held: Design = { ...design, exceptions: [...design.exceptions, exception] };
      const spec: CaseSpec = {
        ...(bit === 1
          ? { bit, pattern: 'worst-one', state: 'undisturbed' }
          : { bit, pattern: 'worst-zero', state: 'disturbed', previous: 'own' }),
        temperature: temperature + end * tolerances.temperature,
      };
      const heard = runs.refer(
        nameCase(spec),
        run(applyOverrides(held, overridesOf(held, spec)), {
          contributions: false,
          estimateError: false,
          balance: false,
          finer: SEARCHED,
          until: followedUntil({ ...design, strobe: { ...design.strobe, time: undefined } }),
        }),
      );
      return heard ? [heard] : [];
    });
  const far = { flux: sigmas * tolerances.coreFlux, threshold: sigmas * tolerances.coreThreshold };
  const ones = [...weak(1, -far.flux, 0), ...weak(1, 0, far.threshold)];
  const zeros = weak(0, 0, -Math.min(0.9, far.threshold));
  const n = runs.time!.length;
  const over = (all: readonly Float64Array[], pick: (...values: number[]) => number): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => pick(...all.map((values) => values[i]!)));
  return { one: over(ones, Math.min), zero: over(zeros, Math.max) };
}
