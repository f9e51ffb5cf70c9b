import { advise } from '../engine/advice/advice.ts';
import { channelReport } from '../engine/channel/channel-report.ts';
import {
  channelJson,
  fittedCoreJson,
  simulationCsv,
  simulationJson,
  toJsonDocument,
  windowCsv,
  windowJson,
} from '../engine/export/serialise.ts';
import type { BenchProgress } from '../engine/fitting/bench-runs.ts';
import { buildPack, packFiles, packJson } from '../engine/pack/build-pack.ts';
import { runProposalJob } from '../engine/propose/jobs.ts';
import type { ProposalJob } from '../engine/propose/jobs.ts';
import { RUNS_OF } from '../engine/propose/plan.ts';
import { makeReport } from '../engine/report/report.ts';
import { simulate } from '../engine/simulate/simulate.ts';
import { STUDY_TOOLS, evaluateJob, planStudy, summarise } from '../engine/studies/study.ts';
import { wholeWindow } from '../engine/studies/whole-window.ts';
import { fitJson, runDiagnosis, runFit } from './capture-input.ts';
import { runJig } from './jig-input.ts';
import { nextJson, nextOf, predictionJson, runPrediction } from './prediction-input.ts';
import { expectedPolls } from './price.ts';
import { simulationText } from './print/simulation-text.ts';
import { sessionJson } from './session-input.ts';
import { studyJson } from './study-json.ts';
import { planText, readStudyLines } from './study-lines.ts';
import type { Answer, Progress, Task } from './task.ts';

/**
 * Do a task here and now. The command line and the workers both come through here, so that their bytes agree.
 * @param progress told the share done of a long task, 0..1
 */
export function perform(task: Task, cancelled: () => boolean, progress?: Progress): Answer {
  return { body: new TextEncoder().encode(performText(task, cancelled, progress)) };
}

function performText(task: Task, cancelled: () => boolean, progress: Progress | undefined): string {
  const onProgress = ({ done, planned }: BenchProgress): void => progress?.(done / planned, planned);
  switch (task.kind) {
    case 'simulate': {
      const { contributions, estimateError } = task;
      const polled = countPolls(cancelled, expectedPolls(task.design), progress);
      const run = simulate(task.design, { contributions, estimateError, cancelled: polled });
      if (task.format === 'text') return simulationText(run);
      return task.format === 'csv' ? simulationCsv(run) : simulationJson(run, { spectrum: task.spectrum });
    }
    case 'window': {
      const found = wholeWindow(task.design, { cancelled });
      if (task.format === 'csv') return windowCsv(task.design, found);
      const told = (done: number, total: number): void => progress?.(done / total, total);
      const advice = task.advice ? advise(task.design, { cancelled, onProgress: told }) : undefined;
      return windowJson(task.design, found, advice);
    }
    case 'report':
      return makeReport(task.design, {
        simulate: (design, options) => simulate(design, { ...options, cancelled }),
      });
    case 'pack': {
      const pack = buildPack(task.design, {
        simulate: (design, options) => simulate(design, { ...options, cancelled }),
      });
      return task.format === 'html' ? packFiles(pack)['pack.html'] : packJson(pack);
    }
    case 'channel':
      return channelJson(channelReport(task.design, { simulate, cancelled }));
    case 'fit':
      return fitJson(runFit(task.fit, { cancelled, onProgress }));
    case 'diagnose':
      return toJsonDocument(runDiagnosis(task.diagnosis, { cancelled, onProgress }));
    case 'predict':
      return predictionJson(runPrediction(task.frame, { cancelled, onProgress }));
    case 'next':
      return nextJson(nextOf(task.frame, { cancelled, onProgress }));
    case 'core': {
      const { fitted, from } = runJig(task.jig);
      return fittedCoreJson(fitted, from);
    }
    case 'core-captures':
      return sessionJson(task.session, { cancelled });
    case 'plan-study':
      return planText(planStudy(task.request));
    case 'study-result': {
      const { plan, results } = readStudyLines(task.plan, task.results);
      return studyJson(summarise(plan, results));
    }
    case 'study-point':
      return JSON.stringify(evaluateJob(task.job, { ...STUDY_TOOLS, cancelled, progress }));
    case 'proposal-part':
      return JSON.stringify(runProposalPart(task.job, cancelled, progress));
  }
}

/** A part of a search; how far it is by the runs that such a part takes as a rule. */
function runProposalPart(job: ProposalJob, cancelled: () => boolean, progress: Progress | undefined) {
  let runs = 0;
  return runProposalJob(job, {
    cancelled,
    simulate: (design, options) => {
      progress?.(Math.min(0.99, ++runs / RUNS_OF[job.step]));
      return simulate(design, options);
    },
  });
}

/** Share of a run by how often it asked whether to stop; all of it is told by its answer. */
function countPolls(
  cancelled: () => boolean,
  expected: number,
  progress: Progress | undefined,
): () => boolean {
  let polls = 0;
  return () => {
    progress?.(Math.min(0.99, ++polls / expected));
    return cancelled();
  };
}
