import type { FromSide, SideTask } from './side-messages.ts';

/** One task at a time in a worker of its own; of those that wait only the newest counts. */
export interface SideClient {
  ask(task: SideTask, onMessage: (message: FromSide) => void): void;
  /** Ends the task at once; nothing more is told of it. */
  cancel(): void;
}

interface Asked {
  readonly task: SideTask;
  readonly onMessage: (message: FromSide) => void;
}

export function createSideClient(): SideClient {
  let worker: Worker | undefined;
  let current: Asked | undefined;
  let next: Asked | undefined;

  function cancel(): void {
    worker?.terminate();
    worker = current = next = undefined;
  }

  function start(asked: Asked): void {
    worker ??= hire();
    current = asked;
    worker.postMessage(asked.task, { transfer: [] });
  }

  function hire(): Worker {
    const made = new Worker(new URL('./side-worker.ts', import.meta.url), { type: 'module' });
    made.addEventListener('message', (event: MessageEvent<FromSide>) => {
      const asked = current;
      if (event.data.kind !== 'progress') {
        current = undefined;
        const waiting = next;
        next = undefined;
        if (waiting) start(waiting);
      }
      asked?.onMessage(event.data);
    });
    made.addEventListener('error', () => {
      const asked = current;
      cancel();
      asked?.onMessage({ kind: 'failed', message: 'The worker stopped unexpectedly; ask again.' });
    });
    return made;
  }

  return {
    ask(task, onMessage) {
      if (current) next = { task, onMessage };
      else start({ task, onMessage });
    },
    cancel,
  };
}
