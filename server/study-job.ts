import type { PointResult, StudyPlan, StudyRequest } from '../engine/studies/shared/shape.ts';
import { failedPoint, pointJob } from '../engine/studies/study.ts';
import type { JobBody } from './job.ts';
import type { JobControl } from './job.ts';
import { priceStudy } from './price.ts';
import { toRequestError } from './request-error.ts';
import { readPlan, resultLines } from './study-lines.ts';
import type { Answer } from './task.ts';

/** A study as a job: plan it, compute its points on all workers, keep what is done at every end, all but the last step off the thread that listens. */
export function studyJob(request: StudyRequest, workLimit: number): JobBody {
  return async (control) => {
    const planned = await control.run({ kind: 'plan-study', request });
    const plan = await readPlan(planned);
    priceStudy(plan, workLimit);
    const results = await computePoints(
      plan,
      plan.points.map((_, index) => index),
      control,
    );
    // Findings and file of many points take long to make: on a thread that nobody waits for.
    const answer = await control.finish({
      kind: 'study-result',
      plan: planned.body,
      results: await resultLines(results),
    });
    control.keep(answer.body);
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
