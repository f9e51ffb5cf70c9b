import type { Json } from '../../engine/base/json-patch.ts';
import type { Proposals } from '../../engine/propose/answer.ts';
import type { JobResult, ProposalJob } from '../../engine/propose/jobs.ts';
import type { Needs } from '../../engine/propose/needs.ts';
import { searchOn } from '../../engine/propose/search-on.ts';
import { createWorkerClient, type WorkerClient } from '../compute/client.ts';
import { workerPlaces } from '../compute/places.ts';
import type { ProposeTasks } from './propose-messages.ts';

export interface ProposeCallbacks {
  /** `left`: s until the end at the pace so far; undefined before anything is done. */
  readonly onProgress: (share: number, left: number | undefined) => void;
  /** What is known after each part, and at the end or when it was stopped. */
  readonly onAnswer: (needs: Needs, answer: Proposals) => void;
  readonly onEnd: (answer: Proposals | undefined) => void;
  readonly onRefused: (message: string, field: string) => void;
}

/** A search in the browser's own workers; the answer does not depend on how many there are. */
export interface ProposeRunner {
  start(raw: Json): void;
  /** Ends at once; what is known is kept and marked as stopped. */
  cancel(): void;
}

const STOPPED = 'Stopped.';

type Client = WorkerClient<ProposeTasks>;
type Fail = (why: Error) => void;

const hire = (): Client =>
  createWorkerClient<ProposeTasks>(
    () => new Worker(new URL('./propose-worker.ts', import.meta.url), { type: 'module' }),
    { cutAfter: Infinity },
  );

export function createProposeRunner(callbacks: ProposeCallbacks): ProposeRunner {
  /** Ends the search under way. */
  let stop: (() => void) | undefined;

  function start(raw: Json): void {
    stop?.();
    let stopped = false;
    const all = new Set<Client>();
    const idle: Client[] = [];
    const waiting = new Set<Fail>();
    stop = () => {
      stopped = true;
      for (const client of all) client.cancel();
      for (const fail of waiting) fail(new Error(STOPPED));
    };
    const ask = <K extends keyof ProposeTasks>(
      kind: K,
      question: ProposeTasks[K]['ask'],
      told?: (piece: ProposeTasks[K]['piece']) => void,
    ): Promise<ProposeTasks[K]['answer']> =>
      new Promise((resolve, reject) => {
        const client = idle.pop() ?? hire();
        all.add(client);
        waiting.add(reject);
        client.ask(kind, question, {
          onPiece: told,
          onAnswer: (answer) => {
            waiting.delete(reject);
            idle.push(client);
            resolve(answer);
          },
          onFailed: ({ message, field }) => {
            waiting.delete(reject);
            reject(Object.assign(new Error(message), { field }));
          },
        });
      });
    void search(raw, ask, () => stopped).finally(() => {
      for (const client of all) client.cancel();
    });
  }

  async function search(
    raw: Json,
    ask: <K extends keyof ProposeTasks>(
      kind: K,
      question: ProposeTasks[K]['ask'],
      told?: (piece: ProposeTasks[K]['piece']) => void,
    ) => Promise<ProposeTasks[K]['answer']>,
    stopped: () => boolean,
  ): Promise<void> {
    const since = performance.now();
    try {
      const needs = await ask('needs', raw);
      const answer = await searchOn(needs, {
        places: workerPlaces(),
        run: (job: ProposalJob, told): Promise<JobResult> => ask('part', job, told),
        stopped,
        onProgress: (done, planned, under) => {
          const share = (done + under) / planned;
          const seconds = (performance.now() - since) / 1000;
          callbacks.onProgress(share, share === 0 ? undefined : (seconds * (1 - share)) / share);
        },
        onAnswer: (known) => callbacks.onAnswer(needs, known),
      });
      callbacks.onAnswer(needs, answer);
      callbacks.onEnd(answer);
    } catch (error) {
      if (stopped()) return callbacks.onEnd(undefined);
      const { message, field } = error as Error & { readonly field?: string };
      callbacks.onRefused(message, field ?? '');
    }
  }

  return { start, cancel: () => stop?.() };
}
