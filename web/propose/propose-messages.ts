import type { Json } from '../../engine/base/json-patch.ts';
import type { JobResult, ProposalJob } from '../../engine/propose/jobs.ts';
import type { Needs } from '../../engine/propose/needs.ts';

export interface ProposeTasks {
  /** Needs as typed, read; fails with the field that is refused. */
  readonly needs: { readonly ask: Json; readonly piece: never; readonly answer: Needs };
  /** A part of a search; told on the way: what is done of it, 0..1. */
  readonly part: { readonly ask: ProposalJob; readonly piece: number; readonly answer: JobResult };
}
