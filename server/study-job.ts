import type { PointResult, StudyPlan, StudyRequest } from '../engine/studies/shared/shape.ts';
import { failedPoint, pointJob, summarise } from '../engine/studies/study.ts';
import type { JobBody, JobControl } from './jobs.ts';
import { readPlan } from './plan-text.ts';
import { priceStudy } from './price.ts';
import { toRequestError } from './request-error.ts';
import { studyJson } from './study-json.ts';
import type { Answer } from './task.ts';

/** A study as a job: plan it, compute its points on all workers, keep what is done at every end. */
export function studyJob(request: StudyRequest, workLimit: number): JobBody {
  return async (control) => {
    const plan = await readPlan(await control.run({ kind: 'plan-study', request }));
    priceStudy(plan, workLimit);
    const results = await computePoints(
      plan,
      plan.points.map((_, index) => index),
      control,
    );
    control.keep(new TextEncoder().encode(studyJson(summarise(plan, results))));
  };
}

/**
 * Compute points on all workers. A worker that is lost costs its point, which is kept as failed under its name; a
 * stopped control ends the rest, and what is done is returned.
 */
export async function computePoints(
  plan: StudyPlan,
  indices: readonly number[],
  control: Pick<JobControl, 'run' | 'threads' | 'report' | 'stopped'>,
): Promise<PointResult[]> {
  const results: PointResult[] = [];
  let taken = 0;
  const parts = new Map<number, number>();
  const report = (): void =>
    control.report(
      results.length,
      indices.length,
      [...parts.values()].reduce((sum, part) => sum + part, 0),
    );
  report();
  const line = async (): Promise<void> => {
    while (taken < indices.length && !control.stopped()) {
      const index = indices[taken++];
      try {
        const answer = await control.run({ kind: 'study-point', job: pointJob(plan, index) }, (share) => {
          parts.set(index, share);
          report();
        });
        results.push(readAnswer(answer) as PointResult);
      } catch (error) {
        const refusal = toRequestError(error);
        if (refusal === undefined) throw error;
        if (control.stopped()) return;
        results.push(failedPoint(plan, index, refusal.body.message));
      }
      parts.delete(index);
      report();
    }
  };
  await Promise.all(Array.from({ length: control.threads }, line));
  return results;
}

const readAnswer = (answer: Answer): unknown => JSON.parse(new TextDecoder().decode(answer.body));
