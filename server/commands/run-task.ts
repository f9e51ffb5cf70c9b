import { SingleBar } from 'cli-progress';
import type { Design } from '../../engine/design/design.ts';
import { predictCost } from '../../engine/estimates/cost.ts';
import { LIMITS } from '../limits.ts';
import { perform } from '../perform.ts';
import { priceLongRun } from '../price.ts';
import type { Progress, Task } from '../task.ts';

/** Class-steps that are over within a second or so: not worth a thread of their own. */
const SHORT = 5e7;
const INTERRUPTED = 130;

/**
 * One run, priced before it begins. What may take long is done on a thread, so that Ctrl-C is heard, and tells how
 * far it is once it has taken two seconds.
 * @returns the answer, or the exit status of one that was stopped
 */
export async function runTask(task: Task, design: Design): Promise<Uint8Array | number> {
  priceLongRun(design, LIMITS);
  if (predictCost(design).work <= SHORT) return perform(task, () => false).body;
  const { createWorkerPool } = await import('../worker-pool.ts');
  const pool = createWorkerPool({ threads: 1, queue: 1, timeLimit: LIMITS.jobTime, grace: LIMITS.grace });
  const stop = new AbortController();
  const interrupt = (): void => (stop.signal.aborted ? process.exit(INTERRUPTED) : stop.abort());
  process.on('SIGINT', interrupt);
  const shown = showShare();
  try {
    return (await pool.run(task, { signal: stop.signal, progress: shown.update })).body;
  } catch (error) {
    if (!stop.signal.aborted) throw error;
    process.stderr.write('Stopped before the run was done: nothing is written.\n');
    return INTERRUPTED;
  } finally {
    shown.stop();
    process.off('SIGINT', interrupt);
    await pool.close();
  }
}

/** ms before anything is shown, and between the lines of a log. */
const PATIENCE = 2000;
const LINE_EVERY = 5000;

/** A bar where somebody looks on; in a log a line now and then. */
function showShare(): { readonly update: Progress; readonly stop: () => void } {
  const began = Date.now();
  let now = 0;
  let bar: SingleBar | undefined;
  let lines: NodeJS.Timeout | undefined;
  const left = (): string => {
    const seconds = Math.ceil(((Date.now() - began) * (1 - now)) / now / 1000);
    return now === 0 ? '' : `, about ${seconds} s left`;
  };
  const line = (): void =>
    void process.stderr.write(`About ${(100 * now).toFixed(1)} % of the run${left()}\n`);
  const start = setTimeout(() => {
    if (!process.stderr.isTTY) {
      line();
      lines = setInterval(line, LINE_EVERY);
      return;
    }
    const format = '{bar} about {percentage} % of the run{left}';
    bar = new SingleBar({ stream: process.stderr, format, clearOnComplete: true });
    bar.start(1, now, { left: left() });
  }, PATIENCE);
  return {
    update: (share) => {
      now = share;
      bar?.update(share, { left: left() });
    },
    stop: () => {
      clearTimeout(start);
      clearInterval(lines);
      bar?.stop();
    },
  };
}
