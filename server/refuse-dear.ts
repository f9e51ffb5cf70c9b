import { RequestError } from './request-error.ts';

export function refuseDear(work: number, limit: number, remedy = ''): void {
  if (work <= limit) return;
  throw new RequestError(422, {
    code: 'too-expensive',
    message: `The work must be at most ${limit} class-steps (cores that differ × steps × cycles × runs) and is about ${Math.ceil(work)}: make the mat, the history, the study, the captures or the resolution smaller${remedy}.`,
    limit,
  });
}

export function refuseSamples(samples: number, limit: number, field: string, steps: string): void {
  if (samples <= limit) return;
  throw new RequestError(422, {
    code: 'too-many-samples',
    field,
    message: `A cycle may have at most ${limit} steps and output samples together and has about ${samples}: make ${steps} larger, or the cycle shorter.`,
    limit,
  });
}
