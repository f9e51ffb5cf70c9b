import type { ClientOf } from './client-of.ts';
import type { JobStore } from './jobs.ts';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import type { SavedFiles } from './saved-files.ts';
import type { Runner } from './task.ts';

/** What the routes share. */
export interface Context {
  /** Does what is answered at once. */
  readonly singles: Runner;
  readonly jobs: JobStore;
  /** Whose request it is, for a fair share of all places. */
  readonly clientOf: ClientOf;
  readonly limits: Limits;
  readonly logger: Logger;
  readonly designs: SavedFiles;
  readonly captures: SavedFiles;
}
