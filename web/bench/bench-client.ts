import type { BenchProgress } from '../../engine/index.ts';
import type { BenchJob, BenchJobs, FromBenchWorker, Refusal, ToBenchWorker } from './bench-messages.ts';

export interface JobCallbacks<K extends BenchJob> {
  readonly onDone: (answer: BenchJobs[K]['answer']) => void;
  readonly onRefused: (refusal: Refusal) => void;
  readonly onProgress?: (progress: BenchProgress) => void;
}

/** One kind of work in a worker of its own. A newer question puts the older one aside; its answer never arrives. */
export interface BenchLane<K extends BenchJob> {
  ask(ask: BenchJobs[K]['ask'], callbacks: JobCallbacks<K>): void;
  /** Ends the work at once; nothing is called back. */
  cancel(): void;
  readonly busy: boolean;
}

export function createLane<K extends BenchJob>(kind: K): BenchLane<K> {
  let worker: Worker | undefined;
  let current: JobCallbacks<K> | undefined;

  function hire(): Worker {
    const made = new Worker(new URL('./bench-worker.ts', import.meta.url), { type: 'module' });
    made.addEventListener('message', (event: MessageEvent<FromBenchWorker>) => {
      const message = event.data;
      if (message.kind === 'progress') return current?.onProgress?.(message.progress);
      const callbacks = current;
      current = undefined;
      if (message.kind === 'done') callbacks?.onDone(message.answer as BenchJobs[K]['answer']);
      else callbacks?.onRefused(message.refusal);
    });
    made.addEventListener('error', () => {
      const callbacks = current;
      stop();
      callbacks?.onRefused({ message: 'The computation stopped unexpectedly; start it again.', field: '' });
    });
    return made;
  }

  function stop(): void {
    worker?.terminate();
    worker = undefined;
    current = undefined;
  }

  return {
    ask(ask, callbacks) {
      if (current) stop();
      worker ??= hire();
      current = callbacks;
      worker.postMessage({ kind, ask } as ToBenchWorker, { transfer: [] });
    },
    cancel: stop,
    get busy() {
      return current !== undefined;
    },
  };
}
