import { computeRun } from './engine-job.ts';
import type { FromWorker, ToWorker } from './engine-messages.ts';

const post = (message: FromWorker): void => self.postMessage(message, { transfer: [] });

self.addEventListener('message', (event: MessageEvent<ToWorker>) => {
  const { id, raw } = event.data;
  try {
    computeRun(raw, {
      onStage: (stage) => post({ id, kind: 'stage', stage }),
      onRun: (run) => post({ id, kind: 'run', run }),
    });
    post({ id, kind: 'finished' });
  } catch (error) {
    post({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
});
