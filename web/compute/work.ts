import { signal, type ReadonlySignal } from '@preact/signals-core';
import type { Progress, Said, WorkState } from '../ui/status.ts';
import type { Failure, Task, Tasks, WorkerClient } from './client.ts';

/** What is said of one question, and what becomes of its answer. */
export interface Telling<K extends Task> {
  /** Said while it goes on. */
  readonly busy: string;
  readonly onPiece?: (piece: K['piece']) => Progress;
  /** What it returns is said of the answer. */
  readonly onAnswer: (answer: K['answer']) => Said | void;
  /** What is said of a failure, where that is not its own sentence. */
  readonly onFailed?: (failure: Failure) => string;
}

/** The work of one panel: one question at a time, and what is to be told of it. */
export interface Work<T extends Tasks<T>> {
  readonly state: ReadonlySignal<WorkState>;
  ask<K extends keyof T>(kind: K, ask: T[K]['ask'], telling: Telling<T[K]>): void;
  /** Ends it at once; `said` tells why. */
  cancel(said?: string): void;
  say(said: Said | undefined): void;
}

/** ms after which progress is told in words, so that short work does not flicker. */
const SOON = 300;

export function createWork<T extends Tasks<T>>(client: WorkerClient<T>, soon = SOON): Work<T> {
  const state = signal<WorkState>({ running: false });
  const say = (said: Said | undefined): void => {
    state.value = { ...state.peek(), said };
  };
  return {
    state,
    say,
    ask(kind, ask, { busy, onPiece, onAnswer, onFailed }) {
      const since = performance.now();
      state.value = { running: true, said: { sign: 'busy', text: busy } };
      client.ask(kind, ask, {
        onPiece: (piece) => {
          const progress = onPiece?.(piece);
          if (!progress) return;
          const told = performance.now() - since > soon;
          const said: Said | undefined = told ? { sign: 'busy', text: progress.text } : state.peek().said;
          state.value = { running: true, progress, said };
        },
        onAnswer: (answer) => {
          state.value = { running: false, said: onAnswer(answer) ?? undefined };
        },
        onFailed: (failure) => {
          const text = onFailed?.(failure) ?? failure.message;
          state.value = { running: false, said: { sign: 'error', text } };
        },
      });
    },
    cancel(said) {
      client.cancel();
      state.value = {
        running: false,
        said: said === undefined ? undefined : { sign: 'warning', text: said },
      };
    },
  };
}
