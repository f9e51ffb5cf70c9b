import type { DriveTable } from '../design/drive.ts';
import type { Capture } from './capture.ts';

/** A pulse is over where its current has fallen to this part of its greatest. */
const OVER = 0.01;

/**
 * One pulse of a captured current as a table for a design. The read is the first pulse; the write is the first of the
 * other direction, or the first where the capture holds one direction only. Thinned to `most` points at most.
 * @throws RangeError where the capture holds no current
 */
export function cutPulse(capture: Capture, what: 'read' | 'write', most = 2000): DriveTable {
  const trace = capture.traces.find(({ unit }) => unit === 'A');
  if (!trace)
    throw new RangeError(
      `A drive current must be a column in amperes, but the capture holds ${capture.traces.map(({ name, unit }) => `${name} in ${unit}`).join(', ')}; scale the probe to amperes.`,
    );
  const { time } = capture;
  const i = trace.value;
  const peak = i.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
  const first = i.findIndex((value) => Math.abs(value) > peak / 2);
  if (!(peak > 0))
    throw new RangeError('A drive current must not be nothing throughout, but is; take another capture.');
  const other = i.findIndex((value) => -value * Math.sign(i[first]!) > peak / 2);
  const middle = what === 'write' && other >= 0 ? other : first;
  const sign = Math.sign(i[middle]!);
  let from = middle;
  let to = middle;
  while (from > 0 && sign * i[from]! > OVER * peak) from--;
  while (to < i.length - 1 && sign * i[to]! > OVER * peak) to++;
  const step = Math.max(1, Math.ceil((to - from + 1) / most));
  const points: [number, number][] = [];
  for (let k = from; k <= to; k += step) points.push([(time[k]! - time[from]!) * 1e9, sign * i[k]! * 1e3]);
  if ((to - from) % step !== 0) points.push([(time[to]! - time[from]!) * 1e9, sign * i[to]! * 1e3]);
  return { points, time: 1e-9, current: 1e-3 };
}
