/** What a worker can be asked, by kind: the question, what it tells on the way, and the answer. */
export interface Task {
  readonly ask: unknown;
  readonly piece: unknown;
  readonly answer: unknown;
}
export type Tasks<T> = { readonly [K in keyof T]: Task };

export interface Failure {
  readonly message: string;
  /** JSON pointer into what was asked; '' when it is about none of its fields. */
  readonly field: string;
  /** The worker itself has ended. */
  readonly lost: boolean;
}

/** What becomes of one question; nothing more is called once a newer one is asked or the client is cancelled. */
export interface Hearing<K extends Task> {
  readonly onPiece?: (piece: K['piece']) => void;
  readonly onAnswer: (answer: K['answer']) => void;
  readonly onFailed: (failure: Failure) => void;
}

/** One worker, one question at a time; of those that wait only the newest counts. */
export interface WorkerClient<T extends Tasks<T>> {
  ask<K extends keyof T>(kind: K, ask: T[K]['ask'], hearing: Hearing<T[K]>): void;
  /** Ends the work at once; nothing is called back. */
  cancel(): void;
  readonly busy: boolean;
}

export interface ToWorker {
  readonly id: number;
  readonly kind: string;
  readonly ask: unknown;
}

export type FromWorker = { readonly id: number } & (
  | { readonly is: 'piece'; readonly piece: unknown }
  | { readonly is: 'answer'; readonly answer: unknown }
  | { readonly is: 'failed'; readonly message: string; readonly field: string }
);

interface Asked {
  readonly kind: string;
  readonly ask: unknown;
  readonly hearing: Hearing<Task>;
}

export interface ClientOptions {
  /**
   * ms of work after which a newer question ends the older one with its worker instead of waiting for it: fresh
   * workers cost a little, so short work is left to finish unheard. 0: always; Infinity: never.
   */
  readonly cutAfter: number;
}

/** `hire` holds the address of the worker's file, which the bundler must see as it is written. */
export function createWorkerClient<T extends Tasks<T>>(
  hire: () => Worker,
  { cutAfter }: ClientOptions,
): WorkerClient<T> {
  let worker: Worker | undefined;
  let current: (Asked & { readonly id: number; readonly since: number }) | undefined;
  let next: Asked | undefined;
  let lastId = 0;

  function stop(): void {
    worker?.terminate();
    worker = current = next = undefined;
  }

  function engage(): Worker {
    const made = hire();
    made.addEventListener('message', (event: MessageEvent<FromWorker>) => {
      if (made === worker) receive(event.data);
    });
    made.addEventListener('error', () => {
      if (made !== worker) return;
      const heard = next ?? current;
      stop();
      heard?.hearing.onFailed({
        message: 'The computation stopped unexpectedly; start it again.',
        field: '',
        lost: true,
      });
    });
    return made;
  }

  function start(asked: Asked): void {
    worker ??= engage();
    current = { ...asked, id: ++lastId, since: performance.now() };
    worker.postMessage({ id: lastId, kind: asked.kind, ask: asked.ask } satisfies ToWorker, { transfer: [] });
  }

  function receive(message: FromWorker): void {
    if (!current || message.id !== current.id) return;
    const { hearing } = current;
    if (message.is === 'piece') {
      if (!next) hearing.onPiece?.(message.piece);
      return;
    }
    current = undefined;
    const waiting = next;
    next = undefined;
    if (waiting) start(waiting);
    else if (message.is === 'answer') hearing.onAnswer(message.answer);
    else hearing.onFailed({ message: message.message, field: message.field, lost: false });
  }

  return {
    ask(kind, ask, hearing) {
      const asked: Asked = { kind: String(kind), ask, hearing: hearing as unknown as Hearing<Task> };
      if (current && performance.now() - current.since >= cutAfter) stop();
      if (current) next = asked;
      else start(asked);
    },
    cancel: stop,
    get busy() {
      return current !== undefined;
    },
  };
}
