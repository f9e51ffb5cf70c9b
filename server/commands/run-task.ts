import type { Design } from '../../engine/design/design.ts';
import { predictCost } from '../../engine/estimates/cost.ts';
import { LIMITS } from '../limits.ts';
import { perform } from '../perform.ts';
import { priceLongRun } from '../price.ts';
import type { Task } from '../task.ts';
import { showShare } from './show-share.ts';
import type { Terminal } from './terminal.ts';

/** Class-steps that are over within a second or so: not worth a thread of their own. */
const SHORT = 5e7;
const INTERRUPTED = 130;

/**
 * One run, priced before it begins. What may take long is done on a thread, so that Ctrl-C is heard, and tells how
 * far it is once it has taken two seconds.
 * @returns the answer, or the exit status of one that was stopped
 */
export async function runTask(
  task: Task,
  design: Design,
  { errors }: Pick<Terminal, 'errors'>,
): Promise<Uint8Array | number> {
  priceLongRun(design, LIMITS);
  if (predictCost(design).work <= SHORT) return perform(task, () => false).body;
  const { createWorkerPool } = await import('../worker-pool.ts');
  const pool = createWorkerPool({ threads: 1, queue: 1, timeLimit: LIMITS.jobTime, grace: LIMITS.grace });
  const stop = new AbortController();
  const interrupt = (): void => (stop.signal.aborted ? process.exit(INTERRUPTED) : stop.abort());
  process.on('SIGINT', interrupt);
  const shown = showShare('run', errors);
  try {
    return (await pool.run(task, { signal: stop.signal, progress: (share) => shown.update(share) })).body;
  } catch (error) {
    if (!stop.signal.aborted) throw error;
    errors.write('Stopped before the run was done: nothing is written.\n');
    return INTERRUPTED;
  } finally {
    shown.stop();
    process.off('SIGINT', interrupt);
    await pool.close();
  }
}
