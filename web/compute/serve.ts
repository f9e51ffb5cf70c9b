import type { FromWorker, Tasks, ToWorker } from './client.ts';

/** The worker's side of the client: what is done for each kind; a throw becomes a failure with its field. */
export type Handlers<T extends Tasks<T>> = {
  readonly [K in keyof T]: (ask: T[K]['ask'], tell: (piece: T[K]['piece']) => void) => T[K]['answer'];
};

export function serve<T extends Tasks<T>>(handlers: Handlers<T>): void {
  const post = (message: FromWorker): void => self.postMessage(message, { transfer: [] });
  self.addEventListener('message', ({ data: { id, kind, ask } }: MessageEvent<ToWorker>) => {
    try {
      const answer = handlers[kind as keyof T](ask, (piece) => post({ id, is: 'piece', piece }));
      post({ id, is: 'answer', answer });
    } catch (error) {
      const { message, field } = error as { message?: string; field?: string };
      post({ id, is: 'failed', message: message ?? String(error), field: field ?? '' });
    }
  });
}
