import { RequestError } from './request-error.ts';
import type { TaskFailure } from './task.ts';

export const CANCELLED: TaskFailure = {
  status: 409,
  code: 'cancelled',
  field: null,
  message: 'The work was cancelled before it was done.',
  limit: null,
};

/** The failure of work that took too long. */
export function timeLimitFailure(timeLimit: number): TaskFailure {
  return {
    status: 422,
    code: 'time-limit',
    field: null,
    message: `The work must end within ${timeLimit / 1000} s and did not: make the mat, the history or the study smaller.`,
    limit: timeLimit / 1000,
  };
}

export const WORKER_LOST: TaskFailure = {
  status: 500,
  code: 'worker-lost',
  field: null,
  message:
    'The worker that did this ended before it was done; others go on: try again, and report it if it happens twice.',
  limit: null,
};

export const OUT_OF_MEMORY: TaskFailure = {
  status: 500,
  code: 'out-of-memory',
  field: null,
  message:
    'The work needed more memory than a worker may have: make the mat, the history or the study smaller.',
  limit: null,
};

export const CLOSING: TaskFailure = {
  status: 503,
  code: 'closing',
  field: null,
  message: 'The server is ending; start it again and repeat the request.',
  limit: null,
};

export const INTERNAL: TaskFailure = {
  status: 500,
  code: 'internal',
  field: null,
  message: 'A fault inside Strobewright, not in the request: please report what was asked.',
  limit: null,
};

export const failed = ({ status, ...body }: TaskFailure): RequestError => new RequestError(status, body);

/** 503 for a client that has its share of a queue, with the seconds after which to try again. */
export const shareTaken = (what: 'jobs' | 'requests', limit: number, seconds: number): RequestError =>
  new RequestError(
    503,
    {
      code: 'share-taken',
      message: `At most ${limit} ${what} of one client may wait, so that others find a place, and as many are waiting: try again in ${seconds} s.`,
      limit,
    },
    { 'Retry-After': String(seconds) },
  );

/** 503 with the seconds after which to try again. */
export const queueFull = (what: 'jobs' | 'requests', limit: number, seconds: number): RequestError =>
  new RequestError(
    503,
    {
      code: 'queue-full',
      message: `At most ${limit} ${what} may wait and as many are waiting: try again in ${seconds} s.`,
      limit,
    },
    { 'Retry-After': String(seconds) },
  );
