import { readlinkSync } from 'node:fs';
import { setPriority } from 'node:os';
import { move, transferableSymbol, valueSymbol, workerData } from 'piscina';
import { perform } from './perform.ts';
import { toRequestError } from './request-error.ts';
import { WHOLE, type TaskFailure, type WorkMessage, type WorkReply } from './task.ts';
import { CANCELLED, timeLimitFailure } from './task-failures.ts';

const { niceness = 0 } = (workerData ?? {}) as { readonly niceness?: number };
if (niceness > 0) giveWay(niceness);

/** Lets this thread wait for others that want the processor; only where the system knows threads by number. */
function giveWay(by: number): void {
  try {
    const thread = Number(readlinkSync('/proc/thread-self').split('/').at(-1));
    setPriority(thread, by);
  } catch {
    // Elsewhere all threads are alike.
  }
}

/** A worker thread: does one task, polling the shared flag and its time limit. Never throws for a refusal. */
export default function work(message: WorkMessage): unknown {
  const flag = new Int32Array(message.control);
  const deadline = Date.now() + message.timeLimit;
  const stopped = (): boolean => Atomics.load(flag, 0) === 1 || Date.now() > deadline;
  try {
    const answer = perform(message.task, stopped, (share, parts = 0) => {
      Atomics.store(flag, 2, parts);
      Atomics.store(flag, 1, Math.round(share * WHOLE));
    });
    if (stopped()) {
      return { failure: stopFailure(Atomics.load(flag, 0) === 1, message.timeLimit) };
    }
    return moved({ answer }, answer.body.buffer);
  } catch (error) {
    // Work that was stopped ends as it can; why is told by whoever stopped it.
    if (stopped()) return { failure: stopFailure(Atomics.load(flag, 0) === 1, message.timeLimit) };
    const refusal = toRequestError(error);
    if (refusal === undefined) throw error;
    return { failure: { status: refusal.status, ...refusal.body } };
  }
}

/** Hand a reply over without copying its bytes. */
function moved(reply: WorkReply, buffer: ArrayBufferLike): unknown {
  return move({ [transferableSymbol]: [buffer], [valueSymbol]: reply } as never);
}

function stopFailure(cancelled: boolean, timeLimit: number): TaskFailure {
  return cancelled ? CANCELLED : timeLimitFailure(timeLimit);
}
