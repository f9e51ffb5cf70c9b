import type { FromWorker, ToWorker } from './engine-messages.ts';
import type { RawDesign } from './pointer.ts';
import type { Run } from './run.ts';

export interface EngineCallbacks {
  readonly onStage: (stage: string) => void;
  /** A quick answer first, a full one later. */
  readonly onRun: (run: Run, raw: RawDesign) => void;
  readonly onFinished: () => void;
  readonly onFailed: (message: string) => void;
}

/** The engine in a worker of the browser. Only the newest request counts; an older one is dropped or cut short. */
export interface EngineClient {
  run(raw: RawDesign): void;
  cancel(): void;
}

export function createEngineClient(callbacks: EngineCallbacks): EngineClient {
  let worker: Worker | undefined;
  let current: (ToWorker & { readonly since: number }) | undefined;
  let next: RawDesign | undefined;
  let lastId = 0;

  function stop(): void {
    worker?.terminate();
    worker = undefined;
    current = undefined;
    next = undefined;
  }

  function start(raw: RawDesign): void {
    worker ??= listen();
    current = { id: ++lastId, raw, since: performance.now() };
    worker.postMessage({ id: current.id, raw } satisfies ToWorker, { transfer: [] });
  }

  function listen(): Worker {
    const made = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module' });
    made.addEventListener('message', (event: MessageEvent<FromWorker>) => receive(event.data));
    made.addEventListener('error', () => {
      stop();
      callbacks.onFailed('The engine stopped unexpectedly; change an input or load the page again.');
    });
    return made;
  }

  function receive(message: FromWorker): void {
    if (!current || message.id !== current.id) return;
    if (message.kind === 'stage') return callbacks.onStage(message.stage);
    if (message.kind === 'run') {
      if (!next) callbacks.onRun(message.run, current.raw);
      return;
    }
    current = undefined;
    if (next) {
      const waiting = next;
      next = undefined;
      return start(waiting);
    }
    if (message.kind === 'finished') callbacks.onFinished();
    else callbacks.onFailed(message.message);
  }

  return {
    run(raw) {
      // A short run is left to finish, since a fresh worker costs more; a long one is cut.
      if (current && performance.now() - current.since > CUT_AFTER) stop();
      if (current) next = raw;
      else start(raw);
    },
    cancel: stop,
  };
}

/** ms */
const CUT_AFTER = 300;
