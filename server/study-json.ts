import { createHash } from 'node:crypto';
import { z } from 'zod';
import {
  STUDY_KINDS,
  type PointResult,
  type StudyPlan,
  type StudyResult,
} from '../engine/studies/shared/shape.ts';
import { RequestError } from './request-error.ts';

/** A study as the file that `merge` reads: with a digest of its plan and of each point, so that a change is seen. */
export function studyJson(study: StudyResult): string {
  return `${JSON.stringify({ ...study, digest: digestOf(study) })}\n`;
}

/** Of design, options, seed and points, and of the results: the rest of a study is computed from these. */
function digestOf({ plan, results }: { plan: StudyPlan; results: readonly PointResult[] }): string {
  return createHash('sha256')
    .update(JSON.stringify([plan, results]))
    .digest('hex');
}

const shardSchema = z.looseObject({
  plan: z.looseObject({
    kind: z.enum(STUDY_KINDS),
    options: z.record(z.string(), z.unknown()),
    seed: z.number(),
    points: z.array(z.looseObject({ name: z.string(), inputs: z.record(z.string(), z.unknown()) })).min(1),
  }),
  results: z.array(
    z.looseObject({ index: z.int().min(0), name: z.string(), values: z.record(z.string(), z.unknown()) }),
  ),
  digest: z.string().optional(),
});

/** A study out of a file. Refuses what no study wrote, what was changed since, and points that its plan has not. */
export function readStudy(value: unknown, path: string): StudyResult {
  if (!shardSchema.safeParse(value).success)
    throw refuse(
      'no-study',
      `Study ${path} must hold the JSON that study --format json writes, with plan and results, and does not: give such a file.`,
    );
  const { digest, ...study } = value as StudyResult & { readonly digest?: string };
  if (digest !== digestOf(study))
    throw refuse(
      'changed-study',
      `Study ${path} must be as it was written, and its digest ${digest === undefined ? 'is missing' : 'is that of another content'}: write it again with study --format json.`,
    );
  const seen = new Set<number>();
  for (const { index } of study.results) {
    if (seen.has(index) || index >= study.plan.points.length)
      throw refuse(
        'bad-point',
        `Study ${path} must hold each of its ${study.plan.points.length} points once at most, and has number ${index} ${seen.has(index) ? 'twice' : 'beyond the last'}: write it again with study --format json.`,
      );
    seen.add(index);
  }
  return study;
}

/** Refuses a point that two studies have computed: which of them is meant? One that failed may be made up for. */
export function refuseRepeats(studies: readonly StudyResult[], paths: readonly string[]): void {
  const computed = new Map<number, number>();
  for (const [i, study] of studies.entries()) {
    for (const { index, name, failed } of study.results) {
      if (failed !== undefined) continue;
      const before = computed.get(index);
      if (before !== undefined)
        throw refuse(
          'repeated-point',
          `Point ${index} (${name}) must come from one study and is in ${paths[before]} and in ${paths[i]}: leave one of the two out.`,
        );
      computed.set(index, i);
    }
  }
}

const refuse = (code: string, message: string): RequestError => new RequestError(422, { code, message });
