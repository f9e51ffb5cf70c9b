import { SingleBar } from 'cli-progress';
import type { WorkControl } from '../capture-input.ts';
import type { Terminal } from './terminal.ts';

/** ms before anything is told in a log, and between its lines. */
const PATIENCE = 2000;
const LINE_EVERY = 5000;

/**
 * Does the work and tells on standard error how far it is: a bar where somebody looks on, in a log a line now and then.
 * The work holds the thread, so that no timer runs: the clock is looked at whenever the work tells. It may end later.
 */
export function withProgress<Result>(
  { errors }: Pick<Terminal, 'errors'>,
  parts: string,
  work: (control: WorkControl) => Result,
  now: () => number = Date.now,
): Result {
  if (!errors.isTTY) {
    let next = now() + PATIENCE;
    return work({
      onProgress: ({ done, planned, runs }) => {
        if (now() < next) return;
        next = now() + LINE_EVERY;
        errors.write(`${done} of ${planned} ${parts}${runs === 0 ? '' : `, ${runs} runs of the model`}\n`);
      },
    });
  }
  const bar = new SingleBar({
    stream: errors,
    format: `{bar} {value} of {total} ${parts}`,
    clearOnComplete: true,
  });
  bar.start(1, 0);
  let waiting = false;
  try {
    const result = work({
      onProgress: ({ done, planned }) => {
        bar.setTotal(planned);
        bar.update(done);
      },
    });
    waiting = result instanceof Promise;
    return result instanceof Promise ? (result.finally(() => bar.stop()) as Result) : result;
  } finally {
    if (!waiting) bar.stop();
  }
}
