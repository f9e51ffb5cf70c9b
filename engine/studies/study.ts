import type { Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { simulate } from '../simulate/simulate.ts';
import { studyPart } from './kinds.ts';
import { runWork } from './shared/price.ts';
import { pointDesign } from './shared/reading.ts';
import {
  StudyError,
  type MapPlace,
  type PointResult,
  type StudyPlan,
  type StudyRequest,
  type StudyResult,
  type StudyTools,
} from './shared/shape.ts';

/**
 * One shape for every study: points in, results out.
 *
 *     const plan = planStudy({ kind: 'shmoo', design, options: { seed: 1 } });
 *     const results = plan.points.map((_, i) => evaluatePoint(plan, i));   // in any order, anywhere
 *     const study = summarise(plan, results);
 *
 * - `planStudy(request)` checks the design and the options (throws DesignError or StudyError: code, field,
 *   message, limit) and lists the points. `studyWork(plan)` is its price. Planning may itself need one strobe window (a
 *   second or so), so a server calls it in a worker.
 * - `evaluatePoint(plan, i)` is pure and never throws: a point that cannot be computed comes back with `failed`.
 *   It depends on (plan, i) alone, so 1, 2 or 4 workers and any number of machines give the same bytes. To keep
 *   messages small, send `plan` to a worker once, or send `pointJob(plan, i)` (the plan with that one point) to
 *   `evaluateJob`.
 * - `summarise(plan, results)` takes any subset of the results in any order, so that a cancelled study keeps what is
 *   done: `partial` is then true, `count` says how much. A worker that dies costs one point: put in its place
 *   `failedPoint(plan, i, message)`.
 * - `shardIndices(plan, { index, count })`: the points of shard `index` (1 to count), every count-th point;
 *   `parseShard('2/4')`. A StudyResult holds its plan and results: `mergeStudies([a, b, ...])` puts shards together
 *   and refuses results of different plans.
 * - `openDesign(plan, i)` is the design file behind a point of a chart.
 *
 * Everything is JSON: `JSON.stringify(summarise(...))` is the file that `study --output` writes and `merge` reads.
 */

/** What a study computes with; give them on with `progress` and `cancelled` to hear of long points. */
export const STUDY_TOOLS: StudyTools = { checkDesign, simulate };

/**
 * Check design (a design file, not a checked design) and options and list the points; the shape of the whole is above.
 * Throws DesignError or StudyError.
 */
export function planStudy(request: StudyRequest, tools = STUDY_TOOLS): StudyPlan {
  return studyPart(request.kind).plan(request, tools.checkDesign(request.design), tools);
}

/** What a study will cost in class-steps (cost.ts), from above: what a server prices it by before it runs. */
export function studyWork(plan: StudyPlan, tools = STUDY_TOOLS): number {
  return studyPart(plan.kind).price?.(plan, tools) ?? plan.runs * runWork(plan.design, [], tools);
}

/**
 * Compute point i of a plan: the row of its table, SI. Pure and the same bytes in any order and on any machine; never
 * throws, a point that cannot be computed says so in `failed`.
 */
export function evaluatePoint(plan: StudyPlan, index: number, tools = STUDY_TOOLS): PointResult {
  const point = plan.points[index];
  if (!point)
    return failedPoint(plan, index, `The plan has ${plan.points.length} points; there is no point ${index}.`);
  try {
    return { index, name: point.name, ...studyPart(plan.kind).evaluate(plan, point, tools) };
  } catch (error) {
    return failedPoint(plan, index, error instanceof Error ? error.message : String(error));
  }
}

/** The result of a point that could not be computed; kept under its name. */
export function failedPoint(plan: StudyPlan, index: number, message: string): PointResult {
  return { index, name: plan.points[index]?.name ?? `point ${index}`, failed: message, values: {} };
}

/** One point on its own: the plan without the others. */
export interface PointJob {
  readonly plan: StudyPlan;
  readonly index: number;
}

export function pointJob(plan: StudyPlan, index: number): PointJob {
  const point = plan.points[index];
  return { plan: { ...plan, points: point ? [point] : [] }, index };
}

/** Same bytes as evaluatePoint(plan, index) of the whole plan. */
export function evaluateJob(job: PointJob, tools = STUDY_TOOLS): PointResult {
  return { ...evaluatePoint(job.plan, 0, tools), index: job.index };
}

/**
 * Put results together, whichever there are and in any order: findings in sentences, table, charts, and plan and results
 * themselves. `partial` tells that some points are missing.
 */
export function summarise(plan: StudyPlan, results: readonly PointResult[]): StudyResult {
  const byIndex = new Map(results.map((result) => [result.index, result]));
  const ordered = [...byIndex.values()].sort((a, b) => a.index - b.index);
  const failed = ordered.flatMap((r) =>
    r.failed === undefined ? [] : [{ index: r.index, name: r.name, message: r.failed }],
  );
  return {
    kind: plan.kind,
    seed: plan.seed,
    partial: ordered.length < plan.points.length,
    count: { planned: plan.points.length, done: ordered.length, failed: failed.length },
    failed,
    ...studyPart(plan.kind).summarise(
      plan,
      ordered.filter((r) => r.failed === undefined),
    ),
    plan,
    results: ordered,
  };
}

/**
 * The raw design that a point (or, in a map, a place) stands for: what a click on a chart opens. Throws as
 * checkDesign does where the point could not be built.
 */
export function openDesign(plan: StudyPlan, index: number, at?: MapPlace, tools = STUDY_TOOLS): Json {
  const point = plan.points[index];
  if (!point)
    throw new StudyError(
      'no-point',
      '/index',
      `The plan has ${plan.points.length} points; there is no point ${index}: choose one below that.`,
    );
  return studyPart(plan.kind).open?.(plan, point, tools, at) ?? pointDesign(plan, point);
}

export interface Shard {
  /** 1 to count. */
  readonly index: number;
  readonly count: number;
}

/** Read `I/N`, 1 <= I <= N <= 10,000. */
export function parseShard(text: string): Shard {
  const match = /^(\d{1,5})\/(\d{1,5})$/.exec(text.trim());
  const index = Number(match?.[1]);
  const count = Number(match?.[2]);
  if (!match || index < 1 || index > count || count > 10_000) {
    throw new StudyError(
      'bad-shard',
      '/shard',
      `Shard must be I/N with 1 ≤ I ≤ N ≤ 10000, for example 2/4; received ${JSON.stringify(text)}: give each machine its own I.`,
      10_000,
    );
  }
  return { index, count };
}

/** Indices of the points of one shard: every count-th point. */
export function shardIndices(plan: StudyPlan, shard: Shard): number[] {
  const indices: number[] = [];
  for (let i = shard.index - 1; i < plan.points.length; i += shard.count) indices.push(i);
  return indices;
}

/**
 * Put shards (or partial studies) of one plan together. A computed point wins over a failed one. Throws StudyError when
 * there are none or their plans differ.
 */
export function mergeStudies(studies: readonly StudyResult[]): StudyResult {
  const first = studies[0];
  if (!first)
    throw new StudyError(
      'nothing-to-merge',
      '',
      'Merge needs at least one study result; received none: name the files.',
    );
  const plan = JSON.stringify(first.plan);
  const results = new Map<number, PointResult>();
  for (const [i, study] of studies.entries()) {
    if (JSON.stringify(study.plan) !== plan) {
      throw new StudyError(
        'other-plan',
        `/${i}`,
        `Every study to merge must come from one plan (same design, kind, options and seed); number ${i + 1} differs from the first: run it again with the same inputs.`,
      );
    }
    for (const result of study.results) {
      const known = results.get(result.index);
      if (!known || known.failed !== undefined) results.set(result.index, result);
    }
  }
  return summarise(first.plan, [...results.values()]);
}
