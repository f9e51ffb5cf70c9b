import type { RawDesign } from '../model/pointer.ts';
import type { FirstTrace, Run } from '../model/run.ts';
import { createWorkerClient, type WorkerClient } from './client.ts';
import type { RunPiece, RunTasks, StagePiece } from './run-messages.ts';
import { collectRun } from './run-pieces.ts';

export interface RunCallbacks {
  readonly onStage: (stage: string) => void;
  /** The first of the two traces, while the other is still being read. */
  readonly onFirst: (first: FirstTrace, raw: RawDesign) => void;
  /** Traces first, a quick answer next, a full one later. */
  readonly onRun: (run: Run, raw: RawDesign) => void;
  readonly onFinished: () => void;
  readonly onFailed: (message: string) => void;
}

/** A design's run in two workers. Only the newest request counts; an older one is dropped or cut short. */
export interface RunClient {
  /** @param until s of the cycle to read first; undefined: all of it at once. */
  run(raw: RawDesign, until: number | undefined): void;
  cancel(): void;
}

/** ms */
const CUT_AFTER = 300;

export function createRunClient(callbacks: RunCallbacks): RunClient {
  const hire = (): WorkerClient<RunTasks> =>
    createWorkerClient<RunTasks>(
      () => new Worker(new URL('./run-worker.ts', import.meta.url), { type: 'module' }),
      { cutAfter: CUT_AFTER },
    );
  const workers = { one: hire(), zero: hire() };
  const cancel = (): void => {
    workers.one.cancel();
    workers.zero.cancel();
  };
  return {
    cancel,
    run(raw, until) {
      const pieces = collectRun();
      let busy = 2;
      const onPiece = (piece: RunPiece | StagePiece): void => {
        if (piece.kind === 'stage') return callbacks.onStage(piece.stage);
        const run = pieces.add(piece);
        if (run) callbacks.onRun(run, raw);
        else if (piece.kind === 'one') callbacks.onFirst({ bit: 1, trace: piece.one }, raw);
        else if (piece.kind === 'zero') callbacks.onFirst({ bit: 0, trace: piece.zero }, raw);
      };
      const hearing = {
        onPiece,
        onAnswer: () => {
          if (--busy === 0) callbacks.onFinished();
        },
        onFailed: ({ message }: { readonly message: string }) => {
          cancel();
          callbacks.onFailed(message);
        },
      };
      workers.one.ask('one', { raw, until }, hearing);
      workers.zero.ask('zero', { raw, until }, hearing);
    },
  };
}
