import type { FromWorker, Share, ToWorker } from './engine-messages.ts';
import type { RawDesign } from './pointer.ts';
import { collectRun, type RunPieces } from './run-pieces.ts';
import type { Run } from './run.ts';

export interface EngineCallbacks {
  readonly onStage: (stage: string) => void;
  /** A quick answer first, a full one later. */
  readonly onRun: (run: Run, raw: RawDesign) => void;
  readonly onFinished: () => void;
  readonly onFailed: (message: string) => void;
}

/** The engine in workers of the browser. Only the newest request counts; an older one is dropped or cut short. */
export interface EngineClient {
  run(raw: RawDesign): void;
  cancel(): void;
}

interface Request {
  readonly id: number;
  readonly raw: RawDesign;
  readonly since: number;
  readonly pieces: RunPieces;
  /** The ONE's worker is done; the ZERO's may yet come. */
  finished: boolean;
  complete: boolean;
}

export function createEngineClient(callbacks: EngineCallbacks): EngineClient {
  let workers: Readonly<Record<Share, Worker>> | undefined;
  let current: Request | undefined;
  let next: RawDesign | undefined;
  let lastId = 0;

  function stop(): void {
    if (workers) for (const worker of Object.values(workers)) worker.terminate();
    workers = undefined;
    current = undefined;
    next = undefined;
  }

  function start(raw: RawDesign): void {
    workers ??= { one: hire(), zero: hire() };
    const id = ++lastId;
    current = {
      id,
      raw,
      since: performance.now(),
      pieces: collectRun(),
      finished: false,
      complete: false,
    };
    for (const share of ['one', 'zero'] as const)
      workers[share].postMessage({ id, raw, share } satisfies ToWorker, { transfer: [] });
  }

  function hire(): Worker {
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
    if (message.kind === 'piece') {
      const run = current.pieces.add(message.piece);
      current.complete = run !== undefined;
      if (run && !next) callbacks.onRun(run, current.raw);
    }
    if (message.kind === 'finished') current.finished = true;
    const over = message.kind === 'failed' || (current.finished && current.complete);
    if (!over) return;
    current = undefined;
    if (next) {
      const waiting = next;
      next = undefined;
      return start(waiting);
    }
    if (message.kind === 'failed') callbacks.onFailed(message.message);
    else callbacks.onFinished();
  }

  return {
    run(raw) {
      // A short run is left to finish, since fresh workers cost more; a long one is cut.
      if (current && performance.now() - current.since > CUT_AFTER) stop();
      if (current) next = raw;
      else start(raw);
    },
    cancel: stop,
  };
}

/** ms */
const CUT_AFTER = 300;
