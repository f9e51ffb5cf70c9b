import { computeShare } from './engine-job.ts';
import type { FromWorker, ToWorker } from './engine-messages.ts';

const post = (message: FromWorker): void => self.postMessage(message, { transfer: [] });

self.addEventListener('message', (event: MessageEvent<ToWorker>) => {
  const { id, raw, share } = event.data;
  try {
    computeShare(raw, share, {
      onStage: (stage) => post({ id, kind: 'stage', stage }),
      onPiece: (piece) => post({ id, kind: 'piece', piece }),
    });
    if (share === 'one') post({ id, kind: 'finished' });
  } catch (error) {
    post({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
});
