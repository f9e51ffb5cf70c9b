import { once } from 'node:events';
import type { Worker } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Share } from './fair-queue.ts';
import { createFairQueue } from './fair-queue.ts';
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
  failed,
  INTERNAL,
  OUT_OF_MEMORY,
  timeLimitFailure,
  WORKER_LOST,
} from './task-failures.ts';

export interface PoolOptions {
  readonly threads: number;
  /** Tasks that may wait; one more is refused with 503. */
  readonly queue: number;
  /** What one client may take of threads and queue; default: everything. */
  readonly share?: Partial<Share>;
  /** ms for a task that states none. */
  readonly timeLimit: number;
  /** ms after a passed limit or a cancel until the thread is ended by force. */
  readonly grace: number;
  /** Another worker file, for tests of workers that die. */
  readonly filename?: string;
  /** How far these threads give way to others that want the processor, 0 (not at all; default) to 19. */
  readonly niceness?: number;
  /** MB of heap of one worker. */
  readonly memory?: number;
  readonly onFault?: (error: unknown) => void;
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
    workerData: { niceness: options.niceness },
    resourceLimits: { maxOldGenerationSizeMb: options.memory ?? 1024 },
  });
  pool.on('error', (error: unknown) => options.onFault?.(error));
  const loaded = watchLoading(pool);
  const queue = createFairQueue({
    places: options.threads,
    waiting: options.queue,
    share: options.share,
  });

  let closing = false;
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
      const reply = (await pool.run(message, {
        signal: kill.signal,
        transferList: handedOver(task),
      })) as WorkReply;
      if ('failure' in reply) throw failed(reply.failure);
      return reply.answer;
    } catch (error) {
      if (error instanceof RequestError) throw error;
      if (closing) throw failed(CLOSING);
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
    refuseWhenFull: (client) => queue.refuseWhenFull(client),
    async run(task, control = {}) {
      const leave = await queue.enter(control);
      try {
        return await attempt(task, control);
      } finally {
        leave();
      }
    },
    async close() {
      closing = true;
      queue.close();
      // A thread that is ended while it loads its modules may take the process along.
      await loaded();
      await pool.destroy();
    },
  };
}

/** What a task takes along for good: to copy it would hold up the thread that listens. */
const handedOver = (task: Task): ArrayBuffer[] =>
  task.kind === 'study-result' ? task.results.map(({ buffer }) => buffer as ArrayBuffer) : [];

/** ms that a thread may take to load before it is ended all the same. */
const LOADING = 30_000;

/** Resolves, when asked, once every thread of a pool has loaded its file or ended. */
function watchLoading(pool: Piscina): () => Promise<unknown> {
  const known = new WeakSet<Worker>();
  const loading = new Set<Promise<unknown>>();
  const watch = (): void => {
    for (const thread of pool.threads) {
      if (known.has(thread)) continue;
      known.add(thread);
      const ended = new AbortController();
      const { signal } = ended;
      // Its first message says that it is ready.
      const ready = Promise.race([once(thread, 'message', { signal }), once(thread, 'exit', { signal })])
        .catch(() => {})
        .finally(() => {
          ended.abort();
          loading.delete(ready);
        });
      loading.add(ready);
    }
  };
  watch();
  // One that ends is replaced.
  pool.on('workerDestroy', () => setImmediate(watch));
  return async () => {
    let timer: NodeJS.Timeout | undefined;
    // It also keeps the process going meanwhile: idle threads do not.
    const late = new Promise((resolve) => (timer = setTimeout(resolve, LOADING)));
    await Promise.race([Promise.all(loading), late]);
    clearTimeout(timer);
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

/** What became of a worker: out of memory, ended or replaced, or a fault inside the task. */
function nameLoss(error: unknown): TaskFailure {
  const { code, message } = error as { code?: unknown; message?: unknown };
  if (code === 'ERR_WORKER_OUT_OF_MEMORY') return OUT_OF_MEMORY;
  const lost = typeof message === 'string' && /worker (exited|thread)|Terminating/i.test(message);
  return lost ? WORKER_LOST : INTERNAL;
}
