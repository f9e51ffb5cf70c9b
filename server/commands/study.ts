import { availableParallelism } from 'node:os';
import { SingleBar } from 'cli-progress';
import type { Json } from '../../engine/base/json-patch.ts';
import { STUDY_KINDS, type StudyKind } from '../../engine/studies/shared/shape.ts';
import { parseShard, shardIndices, summarise } from '../../engine/studies/study.ts';
import { checkStudyOptions } from '../../engine/studies/study-options.ts';
import { LIMITS } from '../limits.ts';
import { RequestError } from '../request-error.ts';
import { computePoints } from '../study-job.ts';
import { readPlan } from '../study-lines.ts';
import { readStudyRequest } from '../study-request.ts';
import type { RunControl, Task } from '../task.ts';
import { createWorkerPool } from '../worker-pool.ts';
import { writeStudy } from './merge.ts';
import { readPairs } from './pairs.ts';
import { readRawDesign } from './read-raw-design.ts';
import type { OutputOptions } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { wholeNumber } from './whole-number.ts';

export interface StudyFlags extends OutputOptions {
  readonly workers?: string;
  readonly seed?: string;
  readonly shard?: string;
  readonly option?: readonly string[];
}

const INTERRUPTED = 130;

/** `study`: points on all workers, progress on standard error; Ctrl-C keeps what is done, marked partial. */
export async function studyCommand(
  kind: string,
  path: string,
  flags: StudyFlags,
  terminal: Terminal,
): Promise<number> {
  const request = readStudyRequest({
    kind: readKind(kind),
    design: (await readRawDesign(path, terminal)) as Json,
    options: readOptionFlags(flags),
  });
  checkStudyOptions(request);
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
    const plan = await readPlan(await run({ kind: 'plan-study', request }));
    const indices = shard === undefined ? plan.points.map((_, index) => index) : shardIndices(plan, shard);
    const shown = (progress = startProgress(indices.length, terminal.errors));
    const results = await computePoints(plan, indices, {
      threads,
      run,
      stopped: () => stop.signal.aborted,
      report: (done, _planned, parts = 0) => shown.update(done, parts),
    });
    shown.stop();
    await writeStudy(summarise(plan, results), flags, terminal);
    if (!stop.signal.aborted) return 0;
    terminal.errors.write(
      `Stopped: ${results.length} of ${indices.length} points are kept and the study is marked partial.\n`,
    );
    return INTERRUPTED;
  } catch (error) {
    if (!stop.signal.aborted) throw error;
    terminal.errors.write('Stopped before the study was planned: nothing is written.\n');
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
/** ms before anything is told in a log, and between its lines. */
const PATIENCE = 2000;
const LINE_EVERY = 5000;

/** A bar where somebody looks on; in a log a line now and then. */
function startProgress(total: number, errors: Terminal['errors']): Progress {
  if (errors.isTTY) {
    const bar = new SingleBar({ stream: errors, format: BAR, clearOnComplete: true, etaBuffer: 50 });
    bar.start(total, 0, { points: 0 });
    return {
      update: (done, parts) => bar.update(done + parts, { points: done }),
      stop: () => bar.stop(),
    };
  }
  const began = Date.now();
  let points = 0;
  let now = 0;
  const line = (): void => {
    const left = now === 0 ? '' : `, ${Math.ceil(((Date.now() - began) * (total / now - 1)) / 1000)} s left`;
    const inAll = now > points ? `, ${Math.floor((100 * now) / total)} % in all` : '';
    errors.write(`${points} of ${total} points${left}${inAll}\n`);
  };
  const first = setTimeout(line, PATIENCE);
  const lines = setInterval(line, LINE_EVERY);
  return {
    update: (done, parts) => {
      points = done;
      now = done + parts;
    },
    stop: () => {
      clearTimeout(first);
      clearInterval(lines);
    },
  };
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
