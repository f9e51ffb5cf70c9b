import { availableParallelism } from 'node:os';
import { SingleBar } from 'cli-progress';
import { z } from 'zod';
import type { Json, StudyKind, StudyPlan, StudyResult } from '../../engine/index.ts';
import {
  mergeStudies,
  parseShard,
  shardIndices,
  STUDY_KINDS,
  StudyError,
  studyCsv,
  summarise,
} from '../../engine/index.ts';
import { LIMITS } from '../limits.ts';
import { studyText } from '../print/study-text.ts';
import { RequestError } from '../request-error.ts';
import { computePoints, readAnswer } from '../study-job.ts';
import type { RunControl, Task } from '../task.ts';
import { createWorkerPool } from '../worker-pool.ts';
import { readJsonInput, writeOutput } from './files.ts';
import { readRawDesign } from './read-raw-design.ts';
import { readPairs } from './pairs.ts';
import type { OutputOptions } from './simulate.ts';
import { wholeNumber } from './whole-number.ts';

export interface StudyFlags extends OutputOptions {
  readonly workers?: string;
  readonly seed?: string;
  readonly shard?: string;
  readonly option?: readonly string[];
}

const INTERRUPTED = 130;

/** `study`: points on all workers, progress on standard error; Ctrl-C keeps what is done, marked partial. */
export async function studyCommand(kind: string, path: string, flags: StudyFlags): Promise<number> {
  const request = {
    kind: readKind(kind),
    design: (await readRawDesign(path)) as Json,
    options: readOptionFlags(flags),
  };
  const shard = flags.shard === undefined ? undefined : parseShard(flags.shard);
  const threads = wholeNumber('--workers', flags.workers ?? String(availableParallelism()), 1, 64);
  const pool = createWorkerPool({ threads, queue: Infinity, timeLimit: LIMITS.jobTime, grace: LIMITS.grace });
  const stop = new AbortController();
  const interrupt = (): void => (stop.signal.aborted ? process.exit(INTERRUPTED) : stop.abort());
  process.on('SIGINT', interrupt);
  let progress: Progress | undefined;
  try {
    const run = (task: Task, part?: RunControl['progress']) =>
      pool.run(task, { signal: stop.signal, progress: part });
    const plan = readAnswer(await run({ kind: 'plan-study', request })) as StudyPlan;
    const indices = shard === undefined ? plan.points.map((_, index) => index) : shardIndices(plan, shard);
    const shown = (progress = startProgress(indices.length));
    const results = await computePoints(plan, indices, {
      threads,
      run,
      stopped: () => stop.signal.aborted,
      report: (done, _planned, parts = 0) => shown.update(done, parts),
    });
    shown.stop();
    await writeStudy(summarise(plan, results), flags);
    if (!stop.signal.aborted) return 0;
    process.stderr.write(
      `Stopped: ${results.length} of ${indices.length} points are kept and the study is marked partial.\n`,
    );
    return INTERRUPTED;
  } catch (error) {
    if (!stop.signal.aborted) throw error;
    process.stderr.write('Stopped before the study was planned: nothing is written.\n');
    return INTERRUPTED;
  } finally {
    progress?.stop();
    process.off('SIGINT', interrupt);
    await pool.close();
  }
}

interface Progress {
  /** `parts`: what is done of the points under way, in points. */
  readonly update: (done: number, parts: number) => void;
  readonly stop: () => void;
}

const BAR = '{bar} {points} of {total} points, {eta_formatted} left';
/** ms between the lines of a log. */
const LINE_EVERY = 5000;

/** A bar where somebody looks on; in a log a line now and then. */
function startProgress(total: number): Progress {
  if (process.stderr.isTTY) {
    const bar = new SingleBar({ stream: process.stderr, format: BAR, clearOnComplete: true, etaBuffer: 50 });
    bar.start(total, 0, { points: 0 });
    return {
      update: (done, parts) => bar.update(done + parts, { points: done }),
      stop: () => bar.stop(),
    };
  }
  const began = Date.now();
  let points = 0;
  let now = 0;
  const timer = setInterval(() => {
    const left = now === 0 ? '' : `, ${Math.ceil(((Date.now() - began) * (total / now - 1)) / 1000)} s left`;
    const inAll = now > points ? `, ${Math.floor((100 * now) / total)} % in all` : '';
    process.stderr.write(`${points} of ${total} points${left}${inAll}\n`);
  }, LINE_EVERY);
  return {
    update: (done, parts) => {
      points = done;
      now = done + parts;
    },
    stop: () => clearInterval(timer),
  };
}

/** `merge`: the shards of one study put together. */
export async function mergeCommand(paths: readonly string[], flags: OutputOptions): Promise<number> {
  const shards: StudyResult[] = [];
  for (const path of paths)
    shards.push(readShard(await readJsonInput(path, 'Study', LIMITS.captureBytes), path));
  await writeStudy(merged(shards), flags);
  return 0;
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
});

function readShard(value: unknown, path: string): StudyResult {
  if (shardSchema.safeParse(value).success) return value as StudyResult;
  throw new RequestError(422, {
    code: 'no-study',
    message: `Study ${path} must hold the JSON that study --format json writes, with plan and results, and does not: give such a file.`,
  });
}

/** Shards come from files: what cannot be put together was changed since a study wrote it. */
function merged(shards: readonly StudyResult[]): StudyResult {
  try {
    return mergeStudies(shards);
  } catch (error) {
    if (error instanceof StudyError) throw error;
    throw new RequestError(422, {
      code: 'no-study',
      message:
        'The results to merge must be those of their plan and are not: write them again with study --format json.',
    });
  }
}

async function writeStudy(study: StudyResult, { format, output }: OutputOptions): Promise<void> {
  const write = { text: studyText, json: (s: StudyResult) => `${JSON.stringify(s)}\n`, csv: studyCsv }[
    format
  ];
  await writeOutput(write(study), output);
}

function readKind(word: string): StudyKind {
  const kind = STUDY_KINDS.find((known) => known === word);
  if (kind !== undefined) return kind;
  throw new RequestError(400, {
    code: 'bad-option',
    field: 'kind',
    message: `The kind of study must be one of ${STUDY_KINDS.join(', ')}; received "${word.slice(0, 40)}": name one of them.`,
  });
}

/** The options of a kind; `--seed N` is one of them. */
function readOptionFlags({ option, seed }: StudyFlags): { [name: string]: Json } {
  const options = readPairs('--option', option);
  if (seed !== undefined) options['seed'] = wholeNumber('--seed', seed, 0, Number.MAX_SAFE_INTEGER);
  return options;
}
