import { Piscina } from 'piscina';
import { inPackage } from './package-root.ts';
import { RequestError } from './request-error.ts';
import { WHOLE } from './task.ts';
import type {
  Answer,
  Progress,
  RunControl,
  Runner,
  Task,
  TaskFailure,
  WorkMessage,
  WorkReply,
} from './task.ts';
import {
  CANCELLED,
  CLOSING,
  INTERNAL,
  OUT_OF_MEMORY,
  queueFull,
  WORKER_LOST,
  timeLimitFailure,
} from './task-failures.ts';

export interface PoolOptions {
  readonly threads: number;
  /** Tasks that may wait; one more is refused with 503. */
  readonly queue: number;
  /** ms for a task that states none. */
  readonly timeLimit: number;
  /** ms after a passed limit or a cancel until the thread is ended by force. */
  readonly grace: number;
  /** Another worker file, for tests of workers that die. */
  readonly filename?: string;
  /** MB of heap of one worker. */
  readonly memory?: number;
  readonly onFault?: (error: unknown) => void;
}

interface Waiting {
  readonly start: () => void;
  readonly refuse: (error: RequestError) => void;
}

/**
 * Workers that do one task each. A task is cancelled by a shared flag, which a run polls; a worker that does not
 * listen within the grace is ended and replaced, and costs only its own task.
 */
export function createWorkerPool(options: PoolOptions): Runner {
  const pool = new Piscina({
    filename: options.filename ?? inPackage('dist', 'server', 'worker.js'),
    minThreads: options.threads,
    maxThreads: options.threads,
    concurrentTasksPerWorker: 1,
    resourceLimits: { maxOldGenerationSizeMb: options.memory ?? 1024 },
  });
  pool.on('error', (error: unknown) => options.onFault?.(error));
  const waiting = new Set<Waiting>();
  let running = 0;
  let closing = false;

  const next = (): void => {
    for (const first of waiting) {
      if (running >= options.threads) return;
      waiting.delete(first);
      first.start();
    }
  };

  const wait = (signal: AbortSignal | undefined): Promise<void> =>
    new Promise((resolve, reject) => {
      const entry: Waiting = {
        start: () => {
          running++;
          signal?.removeEventListener('abort', leave);
          resolve();
        },
        refuse: (error) => {
          signal?.removeEventListener('abort', leave);
          reject(error);
        },
      };
      const leave = (): void => {
        waiting.delete(entry);
        reject(failed(CANCELLED));
      };
      if (closing) return reject(failed(CLOSING));
      if (signal?.aborted) return reject(failed(CANCELLED));
      if (running < options.threads) return entry.start();
      if (waiting.size >= options.queue) return reject(queueFull('requests', options.queue, 2));
      signal?.addEventListener('abort', leave);
      waiting.add(entry);
    });

  const attempt = async (task: Task, { signal, progress, ...asked }: RunControl): Promise<Answer> => {
    const timeLimit = asked.timeLimit ?? options.timeLimit;
    const control = new SharedArrayBuffer(12);
    const flag = new Int32Array(control);
    const kill = new AbortController();
    let overTime = false;
    let killTimer: NodeJS.Timeout | undefined;
    const stop = (): void => {
      Atomics.store(flag, 0, 1);
      killTimer ??= setTimeout(() => kill.abort(), options.grace);
    };
    const limitTimer = setTimeout(() => {
      overTime = true;
      killTimer ??= setTimeout(() => kill.abort(), options.grace);
    }, timeLimit);
    signal?.addEventListener('abort', stop);
    if (signal?.aborted) stop();
    const watching = progress && watchShare(flag, progress);
    try {
      const message: WorkMessage = { task, control, timeLimit };
      const reply = (await pool.run(message, { signal: kill.signal })) as WorkReply;
      if ('failure' in reply) throw failed(reply.failure);
      return reply.answer;
    } catch (error) {
      if (error instanceof RequestError) throw error;
      if (kill.signal.aborted) throw failed(overTime ? timeLimitFailure(timeLimit) : CANCELLED);
      options.onFault?.(error);
      throw failed(nameLoss(error));
    } finally {
      clearInterval(watching);
      clearTimeout(limitTimer);
      clearTimeout(killTimer);
      signal?.removeEventListener('abort', stop);
    }
  };

  return {
    threads: options.threads,
    async run(task, control = {}) {
      await wait(control.signal);
      try {
        return await attempt(task, control);
      } finally {
        running--;
        next();
      }
    },
    async close() {
      closing = true;
      for (const entry of waiting) entry.refuse(failed(CLOSING));
      waiting.clear();
      await pool.destroy();
    },
  };
}

/** ms between looks at how far a task is. */
const LOOK = 200;

function watchShare(flag: Int32Array, progress: Progress): NodeJS.Timeout {
  let told = [0, 0];
  return setInterval(() => {
    const now = [Atomics.load(flag, 1) / WHOLE, Atomics.load(flag, 2)];
    if (now.every((value, i) => value === told[i])) return;
    told = now;
    progress(now[0], now[1]);
  }, LOOK);
}

const failed = ({ status, ...body }: TaskFailure): RequestError => new RequestError(status, body);

/** What became of a worker: out of memory, ended or replaced, or a fault inside the task. */
function nameLoss(error: unknown): TaskFailure {
  const { code, message } = error as { code?: unknown; message?: unknown };
  if (code === 'ERR_WORKER_OUT_OF_MEMORY') return OUT_OF_MEMORY;
  const lost = typeof message === 'string' && /worker (exited|thread)|Terminating/i.test(message);
  return lost ? WORKER_LOST : INTERNAL;
}
