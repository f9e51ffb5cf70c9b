import type { Json } from '../../base/json-patch.ts';
import type { Trace } from '../align/trace-tools.ts';
import type { Observed } from '../compare.ts';

/** Many reads, and what they were taken of. */
export interface ReadsRequest {
  readonly design: Json;
  /** Reads of cores that held a ONE, and a ZERO: s on one axis of time, as the memory triggers it, and V. */
  readonly ones: readonly Trace[];
  readonly zeros: readonly Trace[];
  readonly observed?: Observed;
  /** s on that axis at which the read starts; left out: found from the mean of the ONEs. */
  readonly start?: number;
  /** Share of reads of the normal limits (default 0.999). */
  readonly content?: number;
}
