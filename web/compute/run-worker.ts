import { computeShare } from './run-job.ts';
import type { FromWorker, ToWorker } from './run-messages.ts';

const post = (message: FromWorker): void => self.postMessage(message, { transfer: [] });

self.addEventListener('message', (event: MessageEvent<ToWorker>) => {
  const { id, raw, share, until } = event.data;
  try {
    computeShare(
      raw,
      { share, until },
      {
        onStage: (stage) => post({ id, kind: 'stage', stage }),
        onPiece: (piece) => post({ id, kind: 'piece', piece }),
      },
    );
    post({ id, kind: 'finished' });
  } catch (error) {
    post({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
});
