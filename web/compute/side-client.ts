import { createWorkerClient, type WorkerClient } from './client.ts';
import type { SideTasks } from './side-messages.ts';

/** A worker of its own for one kind of work beside the run. `cutAfter`: see the client. */
export const createSideClient = (cutAfter = 0): WorkerClient<SideTasks> =>
  createWorkerClient<SideTasks>(
    () => new Worker(new URL('./side-worker.ts', import.meta.url), { type: 'module' }),
    { cutAfter },
  );
