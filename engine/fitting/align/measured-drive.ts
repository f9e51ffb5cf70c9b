import type { Patch } from '../../base/json-patch.ts';
import { measuredPulse } from '../../drive/measured-pulse.ts';
import { median } from '../../numerics/statistics.ts';
import { FitError } from '../bench-runs.ts';
import { thinTrace, type Trace } from './trace-tools.ts';

/** Points of a pulse that a design is given. */
const MOST_POINTS = 300;
/** Share of the top under which no current flows. */
const NEAR_NOTHING = 0.02;

/**
 * The read pulse that a current trace shows, as a change of a design: the drive of X and of Y as measured instead of as
 * stated. The first pulse over half of the greatest current is taken, its rest before it taken off, whichever way the
 * probe lay. Throws FitError.
 * @param field where the trace was asked for, a JSON pointer into the request
 */
export function measuredDrive({ time, value }: Trace, field: string): Patch[] {
  const rest = median(value.subarray(0, Math.max(4, Math.floor(value.length * 0.03))));
  const greatest = value.reduce((m, v) => (Math.abs(v - rest) > Math.abs(m) ? v - rest : m), 0);
  const level = value.map((v) => (v - rest) / greatest);
  const over = level.findIndex((v) => v > 0.5);
  if (greatest === 0 || over < 0) throw noPulse(field);
  let from = over;
  while (from > 0 && level[from - 1] > NEAR_NOTHING) from--;
  let to = over;
  while (to < level.length - 1 && level[to + 1] > NEAR_NOTHING) to++;
  if (from === 0 || to === level.length - 1) throw noPulse(field);
  const cut = thinTrace(
    { time: time.slice(from - 1, to + 2), value: level.slice(from - 1, to + 2) },
    MOST_POINTS,
  );
  const last = cut.time.length - 1;
  const points = Array.from(cut.time, (t, i) => [
    Number(((t - cut.time[0]) * 1e9).toFixed(4)),
    i === 0 || i === last ? 0 : Number((cut.value[i] * Math.abs(greatest) * 1e3).toFixed(4)),
  ]);
  const { top } = measuredPulse({ points: points as [number, number][], time: 1e-9, current: 1e-3 });
  // An amplitude that the design states would scale the table.
  return (['x', 'y'] as const).flatMap((line) => [
    { path: `/drive/${line}/read`, value: { points, time: '1 ns', current: '1 mA' } },
    { path: `/drive/${line}/readAmplitude`, value: `${top} A` },
  ]);
}

const noPulse = (field: string): FitError =>
  new FitError(
    field,
    'A measured drive must hold one whole pulse with rest before and after it, and this trace does not: record from before the read current rises to after it has fallen.',
  );
