import { RequestError } from './request-error.ts';
import { CANCELLED, CLOSING, failed, queueFull, shareTaken } from './task-failures.ts';

/** How many places one client may have, so that others find one. */
export interface Share {
  /** Places to work at; a task that says that it is long takes one of `long` at most. */
  readonly working: number;
  readonly long: number;
  readonly waiting: number;
}

export interface FairQueueOptions {
  /** Tasks at work at the same time. */
  readonly places: number;
  /** Tasks that may wait; one more is refused. */
  readonly waiting: number;
  /** Of one client; default: everything. */
  readonly share?: Partial<Share>;
}

export interface Visitor {
  readonly client?: string;
  /** May it take so long that its client must leave a place free? */
  readonly long?: boolean;
  readonly signal?: AbortSignal;
}

interface Waiting {
  readonly client: string;
  readonly long: boolean;
  readonly start: () => void;
  readonly refuse: (error: RequestError) => void;
}

export interface FairQueue {
  /** Resolves with what gives the place back. Rejects with RequestError: full, cancelled, closing. */
  enter(visitor: Visitor): Promise<() => void>;
  /** Throws what `enter` would reject with now for want of a place. */
  refuseWhenFull(client?: string): void;
  close(): void;
}

/**
 * Places at a few workers. Whoever has the fewest at work comes next, and within one client whoever came first; no
 * client takes more than its share of the places or of the queue.
 */
export function createFairQueue({ places, waiting: most, share = {} }: FairQueueOptions): FairQueue {
  const { working = places, long: longest = places, waiting: mostOwn = most } = share;
  const waiting = new Set<Waiting>();
  const atWork = new Map<string, { all: number; long: number }>();
  let taken = 0;
  let closing = false;

  const of = (client: string) => atWork.get(client) ?? { all: 0, long: 0 };
  const mayWork = ({ client, long }: Waiting): boolean =>
    of(client).all < working && (!long || of(client).long < longest);

  const count = (client: string, all: number, long: boolean): void => {
    const now = of(client);
    const then = { all: now.all + all, long: now.long + (long ? all : 0) };
    taken += all;
    if (then.all === 0) atWork.delete(client);
    else atWork.set(client, then);
  };

  const first = (): Waiting | undefined => {
    let found: Waiting | undefined;
    for (const entry of waiting) {
      if (!mayWork(entry)) continue;
      if (found === undefined || of(entry.client).all < of(found.client).all) found = entry;
    }
    return found;
  };
  const next = (): void => {
    for (;;) {
      const entry = taken < places ? first() : undefined;
      if (entry === undefined) return;
      waiting.delete(entry);
      entry.start();
    }
  };

  const refuseWhenFull = (client = ''): void => {
    if (closing) throw failed(CLOSING);
    const own = { client, long: false, start: () => {}, refuse: () => {} };
    if (taken < places && mayWork(own)) return;
    if (waiting.size >= most) throw queueFull('requests', most, 2);
    let mine = 0;
    for (const entry of waiting) if (entry.client === client) mine++;
    if (mine >= mostOwn) throw shareTaken('requests', mostOwn, 2);
  };

  return {
    refuseWhenFull,
    enter: ({ client = '', long = false, signal }) =>
      new Promise((resolve, reject) => {
        if (signal?.aborted) return reject(failed(CANCELLED));
        try {
          refuseWhenFull(client);
        } catch (error) {
          return reject(error as RequestError);
        }
        const leave = (): void => {
          waiting.delete(entry);
          reject(failed(CANCELLED));
        };
        const entry: Waiting = {
          client,
          long,
          start: () => {
            signal?.removeEventListener('abort', leave);
            count(client, 1, long);
            resolve(() => {
              count(client, -1, long);
              next();
            });
          },
          refuse: (error) => {
            signal?.removeEventListener('abort', leave);
            reject(error);
          },
        };
        signal?.addEventListener('abort', leave);
        waiting.add(entry);
        next();
      }),
    close() {
      closing = true;
      for (const entry of waiting) entry.refuse(failed(CLOSING));
      waiting.clear();
    },
  };
}
