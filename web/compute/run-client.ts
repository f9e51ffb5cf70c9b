import type { FromWorker, Share, ToWorker } from './run-messages.ts';
import type { RawDesign } from '../model/pointer.ts';
import { collectRun, type RunPieces } from './run-pieces.ts';
import type { FirstTrace, Run } from '../model/run.ts';

export interface EngineCallbacks {
  readonly onStage: (stage: string) => void;
  /** The first of the two traces, while the other is still being read. */
  readonly onFirst: (first: FirstTrace, raw: RawDesign) => void;
  /** A quick answer first, a full one later. */
  readonly onRun: (run: Run, raw: RawDesign) => void;
  readonly onFinished: () => void;
  readonly onFailed: (message: string) => void;
}

/** The engine in workers of the browser. Only the newest request counts; an older one is dropped or cut short. */
export interface EngineClient {
  /** @param until s of the cycle to read first; undefined: all of it at once. */
  run(raw: RawDesign, until: number | undefined): void;
  cancel(): void;
}

interface Request {
  readonly id: number;
  readonly raw: RawDesign;
  readonly until: number | undefined;
  readonly since: number;
  readonly pieces: RunPieces;
  /** Workers still at it. */
  busy: number;
  complete: boolean;
}

export function createEngineClient(callbacks: EngineCallbacks): EngineClient {
  let workers: Readonly<Record<Share, Worker>> | undefined;
  let current: Request | undefined;
  let next: Pick<Request, 'raw' | 'until'> | undefined;
  let lastId = 0;

  function stop(): void {
    if (workers) for (const worker of Object.values(workers)) worker.terminate();
    workers = undefined;
    current = undefined;
    next = undefined;
  }

  function start({ raw, until }: Pick<Request, 'raw' | 'until'>): void {
    workers ??= { one: hire(), zero: hire() };
    const id = ++lastId;
    current = {
      id,
      raw,
      until,
      since: performance.now(),
      pieces: collectRun(),
      busy: 2,
      complete: false,
    };
    for (const share of ['one', 'zero'] as const)
      workers[share].postMessage({ id, raw, share, until } satisfies ToWorker, { transfer: [] });
  }

  function hire(): Worker {
    const made = new Worker(new URL('./run-worker.ts', import.meta.url), { type: 'module' });
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
      if (next) return;
      if (run) callbacks.onRun(run, current.raw);
      else if (message.piece.kind === 'one')
        callbacks.onFirst({ bit: 1, trace: message.piece.one }, current.raw);
      else if (message.piece.kind === 'zero')
        callbacks.onFirst({ bit: 0, trace: message.piece.zero }, current.raw);
    }
    if (message.kind === 'finished') current.busy--;
    const over = message.kind === 'failed' || (current.busy === 0 && current.complete);
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
    run(raw, until) {
      // A short run is left to finish, since fresh workers cost more; a long one is cut.
      if (current && performance.now() - current.since > CUT_AFTER) stop();
      if (current) next = { raw, until };
      else start({ raw, until });
    },
    cancel: stop,
  };
}

/** ms */
const CUT_AFTER = 300;
