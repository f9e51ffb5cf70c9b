import type { FromWorker, Tasks, ToWorker } from './client.ts';

/** The worker's side of the client: what is done for each kind; a throw becomes a failure with its field. */
export type Handlers<T extends Tasks<T>> = {
  readonly [K in keyof T]: (ask: T[K]['ask'], tell: (piece: T[K]['piece']) => void) => T[K]['answer'];
};

/** The same where an answer may have to wait for something that is fetched. */
type LaterHandlers<T extends Tasks<T>> = {
  readonly [K in keyof T]: (
    ask: T[K]['ask'],
    tell: (piece: T[K]['piece']) => void,
  ) => T[K]['answer'] | Promise<T[K]['answer']>;
};

export function serve<T extends Tasks<T>>(handlers: LaterHandlers<T>): void {
  const post = (message: FromWorker): void => self.postMessage(message, { transfer: [] });
  const work = async ({ id, kind, ask }: ToWorker): Promise<void> => {
    try {
      const answer = await handlers[kind as keyof T](ask, (piece) => post({ id, is: 'piece', piece }));
      post({ id, is: 'answer', answer });
    } catch (error) {
      const { message, field } = error as { message?: string; field?: string };
      post({ id, is: 'failed', message: message ?? String(error), field: field ?? '' });
    }
  };
  self.addEventListener('message', ({ data }: MessageEvent<ToWorker>) => void work(data));
}
