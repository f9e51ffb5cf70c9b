import type { Trace } from '../align/trace-tools.ts';
import { MeasureError } from './measure-core.ts';

/** What a captured drive current says: full drive in A (a magnitude), and the linear edge that passes 10 and 90 % as it does. */
export interface MeasuredDrive {
  readonly fullDrive: number;
  /** s, on the capture's own time, and 0 to 100 %. */
  readonly start: number;
  readonly rise: number;
}

/** Where a current stands on its top, over its greatest value. */
const TOP = 0.8;

/** Reads the first pulse of a captured current; what it shows before is taken for nothing. Throws MeasureError. */
export function readCurrent({ time, value }: Trace): MeasuredDrive {
  const greatest = value.reduce((most, i) => Math.max(most, Math.abs(i)), 0);
  const begins = value.findIndex((i) => Math.abs(i) > greatest / 2);
  const quiet = value.slice(0, Math.max(1, Math.floor(begins / 2)));
  const zero = quiet.reduce((sum, i) => sum + i, 0) / quiet.length;
  const size = value.map((i) => Math.abs(i - zero));
  const high = size.reduce((most, i) => Math.max(most, i), 0);
  const first = size.findIndex((i) => i > high / 2);
  // Begun inside the pulse, its top would be taken for nothing and the rest for a pulse.
  if (!(high > 0) || first < 5 || begins < 5)
    throw new MeasureError(
      'A captured current must show at least 5 samples before its first pulse, and does not: begin the capture earlier.',
    );
  let end = first;
  while (end < size.length && size[end]! > high / 2) end++;
  const top = Array.from(size.slice(first, end).filter((i) => i > TOP * high)).sort((a, b) => a - b);
  const fullDrive = top[top.length >> 1] ?? high;
  const reached = (part: number): number => {
    let k = first;
    while (k < end && size[k]! < part * fullDrive) k++;
    while (k > 0 && size[k - 1]! >= part * fullDrive) k--;
    const [below, above] = [size[Math.max(0, k - 1)]!, size[k]!];
    const share = above > below ? (part * fullDrive - below) / (above - below) : 1;
    return time[Math.max(0, k - 1)]! + share * (time[k]! - time[Math.max(0, k - 1)]!);
  };
  const [low, near] = [reached(0.1), reached(0.9)];
  const rise = Math.max((near - low) / 0.8, time[1]! - time[0]!);
  return { fullDrive, start: low - 0.1 * rise, rise };
}
