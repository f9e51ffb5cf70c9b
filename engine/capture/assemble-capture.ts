import { median } from '../numerics/statistics.ts';
import { CaptureError, VALUE_UNITS } from './capture.ts';
import type { Capture, ValueUnit } from './capture.ts';
import type { RawColumns } from './read-rows.ts';
import type { SettledTimes } from './settle-times.ts';

/** Averages rows of one time, leaves out samples without a value, and checks what is left. */
export function assembleCapture(
  settled: SettledTimes,
  values: readonly number[],
  raw: RawColumns,
  units: readonly ValueUnit[],
  nameOf: (column: number) => string,
  notes: string[],
): Capture {
  const columns = values.map((c, k) =>
    Float64Array.from(settled.rows as ArrayLike<number | Int32Array>, (rows) => {
      const list = typeof rows === 'number' ? [rows] : rows;
      let sum = 0;
      for (const row of list) sum += raw.columns[c][row];
      return (sum / list.length) * VALUE_UNITS[units[k]];
    }),
  );
  const whole = [...settled.time.keys()].filter((i) => columns.every((column) => !Number.isNaN(column[i])));
  const dropped = settled.time.length - whole.length;
  if (whole.length < 2 || dropped > settled.time.length / 2) {
    throw new CaptureError(
      'no-samples',
      `More than half of the ${settled.time.length} samples lack a value in one of the traces; say which columns to read.`,
    );
  }
  if (dropped > 0) notes.push(`${dropped} of ${settled.time.length} samples without a value were left out.`);
  const pick = (column: Float64Array): Float64Array =>
    dropped === 0 ? column : Float64Array.from(whole, (i) => column[i]);
  const time = pick(settled.time);
  const steps = time.subarray(1).map((t, i) => t - time[i]);
  const sampleInterval = median(steps);
  const uniform = steps.every((d) => Math.abs(d - sampleInterval) <= 0.01 * sampleInterval);
  if (!uniform) notes.push('The samples are not evenly spaced.');
  return {
    time,
    sampleInterval,
    uniform,
    traces: columns.map((value, k) => ({
      name: nameOf(values[k]),
      unit: units[k].endsWith('A') ? 'A' : 'V',
      value: pick(value),
    })),
  };
}
