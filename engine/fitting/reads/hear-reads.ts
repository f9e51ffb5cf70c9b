import { plannedPolarity } from '../../mat/winding.ts';
import { median } from '../../numerics/statistics.ts';
import { amplify } from '../../sense-amplifier/amplifier.ts';
import { referToWire } from '../../sense-amplifier/referred.ts';
import type { Design } from '../../design/design.ts';
import { valueAt, type Trace } from '../align/trace-tools.ts';
import type { Observed } from '../compare.ts';

/** How captures lie: s on their own time at which the read starts, and volts in them over volts there. */
export interface ReadsPlace {
  readonly delay: number;
  readonly gain: number;
}

/** s before the edge that are left out of the rest of a read. */
const BEFORE_EDGE = 10e-9;

/** V at which a read rests before its edge; 0 where nothing was recorded before it. */
export function restOf({ time, value }: Trace, delay: number): number {
  const head = value.filter((_, i) => time[i] < delay - BEFORE_EDGE);
  return head.length < 4 ? 0 : median(head);
}

/** Instants that all reads cover, s from the start of read, from the read's start on. */
export function commonTimes(reads: readonly Trace[], delay: number, until: number): Float64Array {
  const first = reads.reduce((m, { time }) => Math.max(m, time[0] - delay), 0);
  const last = reads.reduce((m, { time }) => Math.min(m, time[time.length - 1] - delay), until);
  const { time } = reads[0];
  const interval = Math.max(1e-9, (time[time.length - 1] - time[0]) / (time.length - 1));
  const count = Math.floor((last - first) / interval) + 1;
  return Float64Array.from({ length: Math.max(0, count) }, (_, i) => first + i * interval);
}

/**
 * A read as the detector hears it, referred to the sense wire, its rest taken off: of the sense wire through the
 * design's amplifier, of the amplifier's output as it was recorded.
 */
export function hearRead(
  design: Design,
  read: Trace,
  { delay, gain }: ReadsPlace,
  time: Float64Array,
  observed: Observed,
): Float64Array {
  const rest = restOf(read, delay);
  const volts = time.map((t) => (valueAt(read, t + delay) - rest) / gain);
  const { row, column } = design.selected;
  const sign = plannedPolarity(design, row, column);
  if (observed === 'sense')
    return amplify(design, time, volts, new Float64Array(time.length), { sign }).referred;
  const heard = design.amplifier.polarity === 'either' ? volts.map(Math.abs) : volts;
  return referToWire(design.amplifier, heard);
}
