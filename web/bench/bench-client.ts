import { createWorkerClient, type WorkerClient } from '../compute/client.ts';
import type { BenchTasks } from './bench-messages.ts';

/** A worker of its own for one panel's work. A newer question ends the older one; its answer never arrives. */
export const createBenchClient = (): WorkerClient<BenchTasks> =>
  createWorkerClient<BenchTasks>(
    () => new Worker(new URL('./bench-worker.ts', import.meta.url), { type: 'module' }),
    { cutAfter: 0 },
  );
