import type { BenchProgress } from '../../engine/index.ts';
import { BENCH_JOBS } from './bench-jobs.ts';
import type { BenchJob, BenchJobs, FromBenchWorker, ToBenchWorker } from './bench-messages.ts';

const post = (message: FromBenchWorker): void => self.postMessage(message, { transfer: [] });

self.addEventListener('message', (event: MessageEvent<ToBenchWorker>) => {
  const { kind, ask } = event.data;
  try {
    const job = BENCH_JOBS[kind] as (
      ask: BenchJobs[BenchJob]['ask'],
      onProgress: (progress: BenchProgress) => void,
    ) => BenchJobs[BenchJob]['answer'];
    post({ kind: 'done', answer: job(ask, (progress) => post({ kind: 'progress', progress })) });
  } catch (error) {
    const { message, field } = error as { message?: string; field?: string };
    post({ kind: 'refused', refusal: { message: message ?? String(error), field: field ?? '' } });
  }
});
