import { CHANNEL_RUNS } from '../engine/channel/channel-report.ts';
import { checkDesign } from '../engine/check/check-design.ts';
import type { Design } from '../engine/design/design.ts';
import { ADVICE_RUNS, WINDOW_RUNS, predictCost } from '../engine/estimates/cost.ts';
import { diagnosisRuns, fitRuns } from '../engine/fitting/bench-cost.ts';
import { FIT_ITERATIONS } from '../engine/fitting/fit-design.ts';
import type { Knowledge } from '../engine/predict/knowledge.ts';
import { type OutlookRequest, designAsked } from '../engine/predict/outlook.ts';
import { MAT_CANDIDATES, predictionRuns } from '../engine/predict/price.ts';
import { measuredDesigns } from '../engine/predict/seen-captures.ts';
import type { Needs } from '../engine/propose/needs.ts';
import { searchPrice } from '../engine/propose/search-price.ts';
import type { StudyPlan } from '../engine/studies/shared/shape.ts';
import { studyWork } from '../engine/studies/study.ts';
import { partsRuns } from '../engine/studies/tolerance/parts-yield.ts';
import type { FitFrame } from './capture-input.ts';
import { type CaptureSource, sourceBytes } from './capture-source.ts';
import type { Limits } from './limits.ts';
import { refuseDear, refuseSamples } from './refuse-dear.ts';

/** Runs of one cycle by what is asked for; what parts come to is added where they are drawn. */
const RUNS = { simulate: 1, channel: CHANNEL_RUNS, window: WINDOW_RUNS, advice: WINDOW_RUNS + ADVICE_RUNS };

/** Refuses a run, or the runs of a window, whose price is above the limits, before anything is queued. */
export function priceDesign(
  design: Design,
  kind: keyof typeof RUNS,
  limits: Pick<Limits, 'singleWork' | 'samples'>,
): void {
  const { work, samples } = predictCost(design);
  const remedy = kind === 'advice' ? ', or ask for it as a job at /api/v1/advices' : '';
  refuseDear(work * (RUNS[kind] + runsOfParts(design, kind)), limits.singleWork, remedy);
  refuseSamples(samples, limits.samples, '/numerics', '/numerics/output and /numerics/step');
}

/** Runs of the stacks of parts that a window draws where its design asks for that set. */
const runsOfParts = ({ requirement }: Design, kind: keyof typeof RUNS): number =>
  (kind === 'window' || kind === 'advice') && requirement.sets.includes('parts')
    ? partsRuns(requirement.yield)
    : 0;

/** The price of one run that may take as long as a job: on a machine of one's own. */
export function priceLongRun(design: Design, limits: Pick<Limits, 'jobWork' | 'samples'>): void {
  priceDesign(design, 'simulate', { singleWork: limits.jobWork, samples: limits.samples });
}

/** Polls of `cancelled` (one in 256 steps) that a run comes to, roughly: about half of what its price counts. */
export function expectedPolls(design: Design): number {
  const { samples } = predictCost(design);
  const steps = samples - design.cycle.period / design.numerics.output;
  const cycles = design.programme.length;
  return Math.max(1, (0.5 * steps * (Math.min(2, cycles) + Math.max(0, cycles - 2) / 2)) / 256);
}

/** The price of a study's plan, by the designs of its points. */
export function priceStudy(plan: StudyPlan, limit: number): void {
  refuseDear(studyWork(plan), limit);
}

/** The price of a fit. */
export function priceFit(
  design: Design,
  frame: FitFrame,
  captures: readonly CaptureSource[],
  limits: Limits,
): void {
  const { unknowns, maxIterations = FIT_ITERATIONS } = frame;
  priceRuns(design, captures, fitRuns(unknowns.length, maxIterations), limits);
}

/** The price of a diagnosis. */
export function priceDiagnosis(design: Design, captures: readonly CaptureSource[], limits: Limits): void {
  priceRuns(design, captures, diagnosisRuns(), limits);
}

/** The price of captures read at once, as of a core on a jig. */
export function priceReading(captures: readonly CaptureSource[], limits: Pick<Limits, 'singleWork'>): void {
  refuseDear(capturesWork(captures.map(sourceBytes), 0), limits.singleWork);
}

/** Class-steps that captures of so many bytes cost: each is read once, and laid over so many runs. */
export const capturesWork = (bytes: readonly number[], runs: number): number =>
  bytes.reduce(
    (sum, count) => sum + count * READ_WORK + Math.min(count / LEAST_ROW, ROWS) * LAY_WORK * runs,
    0,
  );

/** Class-steps that take as long as reading a byte of a capture, and as laying one sample over a run. */
const READ_WORK = 30;
const LAY_WORK = 60;
/** Bytes of the shortest row (`1,2` and a line end), and rows of the longest capture. */
const LEAST_ROW = 4;
const ROWS = 1_000_000;

/** The price of a window with advice as a job. */
export function priceAdvice(design: Design, limits: Limits): void {
  priceDesign(design, 'simulate', limits);
  refuseDear(predictCost(design).work * (RUNS.advice + runsOfParts(design, 'advice')), limits.jobWork);
}

type Asked = Pick<OutlookRequest, 'changes'> & { readonly known: Knowledge };

/** The price of a prediction: of what is asked for, and of what each capture shows. Throws DesignError. */
export const priceOutlook = (asked: Asked, limits: Limits): void =>
  refuseDear(outlookWork(asked, limits), limits.jobWork);

/** The price of what to measure next: that of a prediction, and of each capture of the mat that could be taken. */
export function priceNext(asked: Asked, limits: Limits): void {
  const bench = predictCost(checkDesign(asked.known.design)).work;
  const each = predictionRuns(asked.known.values.length).capture;
  refuseDear(outlookWork(asked, limits) + MAT_CANDIDATES * each * bench, limits.jobWork);
}

function outlookWork({ known, changes = [] }: Asked, limits: Limits): number {
  const design = designAsked(known, changes);
  priceDesign(design, 'simulate', limits);
  const runs = predictionRuns(known.values.length);
  const captures = measuredDesigns(known).reduce((sum, of) => sum + predictCost(of).work, 0);
  return predictCost(design).work * runs.design + captures * runs.capture;
}

/** The price of builds from needs. */
export function priceProposals(needs: Needs, limits: Pick<Limits, 'jobWork' | 'samples'>): void {
  const { work, samples } = searchPrice(needs);
  refuseSamples(samples, limits.samples, '/cycle', '/keep/numerics/output and /keep/numerics/step');
  refuseDear(work, limits.jobWork);
}

/** So many runs for each capture, and the captures themselves. */
function priceRuns(design: Design, captures: readonly CaptureSource[], runs: number, limits: Limits): void {
  priceDesign(design, 'simulate', limits);
  const work = predictCost(design).work * captures.length * runs;
  refuseDear(work + capturesWork(captures.map(sourceBytes), runs), limits.jobWork);
}
