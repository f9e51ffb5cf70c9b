import type { Job } from './job.ts';
import { isEnded } from './job.ts';
import type { Limits } from './limits.ts';

/** Jobs at work beyond the threads, of clients that have no other: they share the threads. */
const GUESTS = 16;

/** Of the clients with the fewest jobs at work the one that came first; a client without any need not wait for a thread. */
export function chooseNext(queue: readonly Job[], active: readonly Job[], threads: number): Job | undefined {
  const working = ({ client }: Job): number => active.filter((job) => job.client === client).length;
  let first: Job | undefined;
  for (const job of queue) if (first === undefined || working(job) < working(first)) first = job;
  if (first === undefined) return undefined;
  const room = working(first) === 0 ? threads + GUESTS : threads;
  return active.length < room ? first : undefined;
}

/**
 * The last ended jobs stay, as many as may be kept and as their results have room. Where there are too many, the
 * oldest goes of whoever takes the most room, so that nobody pushes another's results out; the very last one stays.
 */
export function forgetOldest(
  jobs: Map<string, Job>,
  { jobsKept, resultBytes }: Pick<Limits, 'jobsKept' | 'resultBytes'>,
): void {
  const bytesOf = (job: Job): number => job.result?.byteLength ?? 0;
  for (;;) {
    const ended = [...jobs.values()].filter(isEnded).sort((a, b) => a.ended - b.ended);
    const tooMany = ended.length > jobsKept;
    const size = (job: Job): number => (tooMany ? 1 : bytesOf(job));
    if (!tooMany && ended.reduce((sum, job) => sum + bytesOf(job), 0) <= resultBytes) return;
    const taken = new Map<string, number>();
    for (const job of ended) taken.set(job.client, (taken.get(job.client) ?? 0) + size(job));
    const most = Math.max(...taken.values());
    const oldest = ended.slice(0, -1).find((job) => taken.get(job.client) === most && size(job) > 0);
    if (oldest === undefined) return;
    jobs.delete(oldest.id);
  }
}
