import type { OutputOptions } from './simulate.ts';

export interface CoreFlags extends OutputOptions {
  readonly one?: string;
  readonly zero?: string;
  readonly edge?: readonly string[];
  readonly gain?: string;
  readonly read?: readonly string[];
  readonly trace?: readonly string[];
  readonly current?: readonly string[];
  readonly save?: string;
  readonly keep?: string;
}
