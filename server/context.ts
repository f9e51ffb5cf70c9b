import type { JobStore } from './jobs.ts';
import type { Limits } from './limits.ts';
import type { Logger } from './logger.ts';
import type { Runner } from './task.ts';

/** What the routes share. */
export interface Context {
  /** Does what is answered at once. */
  readonly singles: Runner;
  readonly jobs: JobStore;
  readonly limits: Limits;
  readonly logger: Logger;
  /** Folder of saved designs and captures. */
  readonly dataFolder: string;
}
