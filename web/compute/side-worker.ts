import { advise, channelReport, makeReport, simulate } from '../../engine/index.ts';
import type { FromSide, SideTask } from './side-messages.ts';

const post = (message: FromSide): void => self.postMessage(message, { transfer: [] });

function work(task: SideTask): void {
  if (task.kind === 'advice') {
    const { design, wanted } = task;
    const onProgress = (done: number, total: number, next: string) =>
      post({ kind: 'progress', done, total, next });
    return post({ kind: 'advice', advice: advise(design, { wanted, onProgress }) });
  }
  if (task.kind === 'report') return post({ kind: 'report', html: makeReport(task.design) });
  if (task.kind === 'channel')
    return post({ kind: 'channel', report: channelReport(task.design, { simulate }) });
  const { design, at } = task;
  const until = at + 4 * design.numerics.output;
  const run = simulate(design, {
    contributions: false,
    estimateError: false,
    books: false,
    until,
    sharesAt: [at],
  });
  post({ kind: 'shares', shares: run.shares![0]! });
}

self.addEventListener('message', (event: MessageEvent<SideTask>) => {
  try {
    work(event.data);
  } catch (error) {
    post({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
});
