import type { Design, StudyPlan } from '../engine/index.ts';
import {
  ADVICE_RUNS,
  CHANNEL_RUNS,
  FIT_ITERATIONS,
  predictCost,
  studyWork,
  WINDOW_RUNS,
} from '../engine/index.ts';
import type { DiagnosisFrame, FitFrame } from './capture-input.ts';
import type { Limits } from './limits.ts';
import { RequestError } from './request-error.ts';

const RUNS = { simulate: 1, channel: CHANNEL_RUNS, window: WINDOW_RUNS, advice: WINDOW_RUNS + ADVICE_RUNS };

/** Refuses a run, or the runs of a window, whose price is above the limits, before anything is queued. */
export function priceDesign(
  design: Design,
  kind: keyof typeof RUNS,
  limits: Pick<Limits, 'singleWork' | 'samples'>,
): void {
  const { work, samples } = predictCost(design);
  const remedy = kind === 'advice' ? ', or ask for it as a job at /api/v1/advices' : '';
  refuseDear(work * RUNS[kind], limits.singleWork, remedy);
  if (samples <= limits.samples) return;
  throw new RequestError(422, {
    code: 'too-many-samples',
    field: '/numerics',
    message: `A cycle may have at most ${limits.samples} steps and output samples together and has about ${samples}: make /numerics/output and /numerics/step larger, or the cycle shorter.`,
    limit: limits.samples,
  });
}

/** The price of a study's plan, by the designs of its points. */
export function priceStudy(plan: StudyPlan, limit: number): void {
  refuseDear(studyWork(plan), limit);
}

/** The price of a fit: for each capture and iteration two runs an unknown, and one or two of the step. */
export function priceFit(design: Design, frame: FitFrame, limits: Limits): void {
  const { captures, unknowns, maxIterations = FIT_ITERATIONS } = frame;
  priceRuns(design, captures.length * (2 * unknowns.length + 2) * maxIterations, limits);
}

/** The price of a diagnosis: every fault tried in several degrees on every capture. */
export function priceDiagnosis(design: Design, { captures }: DiagnosisFrame, limits: Limits): void {
  priceRuns(design, captures.length * DIAGNOSIS_RUNS, limits);
}

const DIAGNOSIS_RUNS = 500;

/** The price of a window with advice as a job. */
export function priceAdvice(design: Design, limits: Limits): void {
  priceRuns(design, RUNS.advice, limits);
}

function priceRuns(design: Design, runs: number, limits: Limits): void {
  priceDesign(design, 'simulate', limits);
  refuseDear(predictCost(design).work * runs, limits.jobWork);
}

function refuseDear(work: number, limit: number, remedy = ''): void {
  if (work <= limit) return;
  throw new RequestError(422, {
    code: 'too-expensive',
    message: `The work must be at most ${limit} class-steps (cores that differ × steps × cycles × runs) and is about ${Math.ceil(work)}: make the mat, the history, the study or the resolution smaller${remedy}.`,
    limit,
  });
}
