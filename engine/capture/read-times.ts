import { median } from '../numerics/statistics.ts';
import { CaptureError, TIME_UNITS } from './capture.ts';
import type { Ambiguity, CaptureOptions, TimeUnit } from './capture.ts';
import { everyKnown } from './choose-columns.ts';
import type { Header } from './read-header.ts';
import type { RawColumns } from './read-rows.ts';

/** A sample of a core's answer lasts between these, s; used only to rule out a unit of time. */
const LEAST_INTERVAL = 5e-11;
const GREATEST_INTERVAL = 1e-2;
/** Times of the rows in s; without a column they come from the sample interval. */
export function readTimes(
  raw: RawColumns,
  timeColumn: number,
  units: readonly (string | undefined)[],
  header: Header,
  options: CaptureOptions,
  ambiguities: Ambiguity[],
  notes: string[],
): Float64Array {
  if (timeColumn < 0) {
    const interval = options.sampleInterval ?? header.sampleInterval;
    if (options.sampleInterval !== undefined && !(options.sampleInterval > 0)) {
      throw new CaptureError(
        'option',
        `The sample interval must be more than 0 s; received ${options.sampleInterval} s.`,
      );
    }
    if (interval === undefined) {
      ambiguities.push({
        code: 'sample-interval',
        question: 'The file has no column of times: how long is one sample, in seconds?',
        choices: [],
        wanted: 'sampleInterval',
      });
    } else if (options.sampleInterval === undefined) {
      notes.push(
        `There is no column of times; they were counted from the interval of ${interval} s in the lines above the samples.`,
      );
    }
    return Float64Array.from(raw.line, (_, i) => i * (interval ?? 1));
  }
  const column = raw.columns[timeColumn];
  const unit = options.timeUnit ?? units[timeColumn] ?? header.timeUnit;
  if (unit !== undefined && unit in TIME_UNITS) return scaled(column, TIME_UNITS[unit as TimeUnit]);
  if (unit !== undefined) {
    throw new CaptureError(
      'times',
      `The unit of the times must be s, ms, us, ns or ps; received "${unit}": name it in the header or in the options.`,
    );
  }
  const known = everyKnown(column);
  const steps = known
    .slice(1)
    .map((t, i) => Math.abs(t - known[i]))
    .filter((d) => d > 0);
  const step = steps.length > 0 ? median(steps) : 0;
  const plausible = (Object.keys(TIME_UNITS) as TimeUnit[]).filter(
    (u) => step * TIME_UNITS[u] >= LEAST_INTERVAL && step * TIME_UNITS[u] <= GREATEST_INTERVAL,
  );
  if (plausible.length === 1) {
    notes.push(
      `The times carry no unit; they were taken in ${plausible[0]}, since in any other a sample would last less than 50 ps or more than 10 ms.`,
    );
    return scaled(column, TIME_UNITS[plausible[0]]);
  }
  const offered = plausible.length > 0 ? plausible : (Object.keys(TIME_UNITS) as TimeUnit[]);
  ambiguities.push({
    code: 'time-unit',
    question: `The times carry no unit and one sample lasts ${Number(step.toPrecision(4))} of it: which unit is it?`,
    choices: offered.map((timeUnit) => ({ label: timeUnit, options: { timeUnit } })),
  });
  return scaled(column, TIME_UNITS[offered[0]]);
}

const scaled = (column: Float64Array, factor: number): Float64Array =>
  factor === 1 ? column : column.map((v) => v * factor);
