import type { Design } from '../../engine/design/design.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { FirstTrace, Run } from '../model/run.ts';
import { createWorkerClient, type Failure, type WorkerClient } from './client.ts';
import type { RunPiece, RunTasks, Shown, StagePiece } from './run-messages.ts';
import { collectRun } from './run-pieces.ts';

export interface RunCallbacks {
  readonly onStage: (stage: string) => void;
  /** The design as a worker has checked it. */
  readonly onDesign: (design: Design, raw: RawDesign) => void;
  /** The first of the two traces, while the other is still being read. */
  readonly onFirst: (first: FirstTrace, raw: RawDesign) => void;
  /** Traces first, a quick answer next, a full one later. */
  readonly onRun: (run: Run, raw: RawDesign) => void;
  readonly onFinished: () => void;
  readonly onFailed: (failure: Failure) => void;
}

/** A design's run in two workers. Only the newest request counts; an older one is dropped or cut short. */
export interface RunClient {
  run(raw: RawDesign, shown: Shown): void;
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
    run(raw, shown) {
      const pieces = collectRun();
      let busy = 2;
      const onPiece = (piece: RunPiece | StagePiece): void => {
        if (piece.kind === 'stage') return callbacks.onStage(piece.stage);
        const run = pieces.add(piece);
        if (piece.kind === 'design') callbacks.onDesign(piece.design, raw);
        if (run) callbacks.onRun(run, raw);
        else if (piece.kind === 'one') callbacks.onFirst({ bit: 1, trace: piece.one }, raw);
        else if (piece.kind === 'zero') callbacks.onFirst({ bit: 0, trace: piece.zero }, raw);
      };
      const hearing = {
        onPiece,
        onAnswer: () => {
          if (--busy === 0) callbacks.onFinished();
        },
        onFailed: (failure: Failure) => {
          cancel();
          callbacks.onFailed(failure);
        },
      };
      workers.one.ask('one', { raw, shown }, hearing);
      workers.zero.ask('zero', { raw, shown }, hearing);
    },
  };
}
