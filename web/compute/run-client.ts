import type { Design } from '../../engine/design/design.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { FirstTrace, Run } from '../model/run.ts';
import { createWorkerClient, type Failure, type WorkerClient } from './client.ts';
import type { JudgeAsk, RunPiece, RunTasks, Shown, StagePiece } from './run-messages.ts';
import { collectRun } from './run-pieces.ts';

export interface RunCallbacks {
  readonly onStage: (stage: string) => void;
  /** The design as a worker has checked it. */
  readonly onDesign: (design: Design, raw: RawDesign) => void;
  /** The first of the two traces, while the other is still being read. */
  readonly onFirst: (first: FirstTrace, raw: RawDesign) => void;
  /** Traces first, a quick answer next, a full one later. `raw`: what the judgement is of. */
  readonly onRun: (run: Run, raw: RawDesign) => void;
  readonly onFinished: (raw: RawDesign) => void;
  readonly onFailed: (failure: Failure) => void;
}

/** A design's run in two workers. Only the newest request counts; an older one is dropped or cut short. */
export interface RunClient {
  run(raw: RawDesign, shown: Shown): void;
  /** Judges a design anew whose traces are those of `base`; where those are being read to their end, that goes on. */
  judge(base: Run, ask: JudgeAsk): void;
  /** `run`, of `raw`, is known already: what is under way for another judgement of it is ended. */
  stand(run: Run, raw: RawDesign, sameTraces: boolean): void;
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
  /** What is known of the design that is asked about, whichever question it came from. */
  let pieces = collectRun();
  let of: RawDesign = {};
  const cancel = (): void => {
    workers.one.cancel();
    workers.zero.cancel();
  };
  const onPiece = (piece: RunPiece | StagePiece): void => {
    if (piece.kind === 'stage') return callbacks.onStage(piece.stage);
    const run = pieces.add(piece);
    if (piece.kind === 'design') return callbacks.onDesign(piece.design, of);
    if (run) callbacks.onRun(run, of);
    else if (piece.kind === 'one') callbacks.onFirst({ bit: 1, trace: piece.one }, of);
    else if (piece.kind === 'zero') callbacks.onFirst({ bit: 0, trace: piece.zero }, of);
  };
  const hearing = {
    onPiece,
    onAnswer: () => {
      if (!workers.one.busy && !workers.zero.busy) callbacks.onFinished(of);
    },
    onFailed: (failure: Failure) => {
      cancel();
      callbacks.onFailed(failure);
    },
  };
  const take = (run: Run, raw: RawDesign): void => {
    of = raw;
    if (workers.zero.busy) pieces.add({ kind: 'judged', ...run });
    else pieces = collectRun(run);
  };
  return {
    cancel,
    run(raw, shown) {
      [pieces, of] = [collectRun(), raw];
      workers.one.ask('one', { raw, shown }, hearing);
      workers.zero.ask('zero', { raw, shown }, hearing);
    },
    judge(base, ask) {
      take(base, ask.raw);
      workers.one.ask('judge', ask, hearing);
    },
    stand(run, raw, sameTraces) {
      workers.one.cancel();
      if (!sameTraces) workers.zero.cancel();
      take(run, raw);
    },
  };
}
