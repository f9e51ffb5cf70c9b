import { formatQuantity } from '../../base/format-quantity.ts';
import { pulseDrive } from '../../core/drive.ts';
import { FitError } from '../bench-runs.ts';
import { valueAt, type Trace } from '../align/trace-tools.ts';
import type { CaptureFields } from './session-schema.ts';
import type { CoreCapture } from './trace-model.ts';

/** Steps at most that a capture is fitted in. */
const MOST_STEPS = 1500;
/** s: no finer. */
const LEAST_STEP = 2e-9;
/** The current counts as driven from this part of its greatest value on. */
const DRIVEN = 0.03;
/** Doubts where none are stated: scale of a captured current and of one that is only said; s, its start. */
const SCALE = [0.02, 0.05] as const;
const START = [2e-9, 15e-9] as const;

/**
 * One capture of a core as a fit takes it: sense voltage (V, `gain` times that of one turn) and current (A, ampere-turns) on one axis of time, or pulses in
 * the place of the current; what both show while nothing is driven is taken off.
 * Throws FitError, with `at` before its field.
 */
export function coreCapture(
  fields: CaptureFields,
  sense: Trace,
  current: Trace | undefined,
  gain: number,
  at: string,
): CoreCapture {
  const { pulses } = fields;
  if ((current === undefined) === (pulses === undefined))
    throw new FitError(
      at,
      'A capture of a core must have its current either captured or as pulses: give one of the two.',
    );
  const [start, end] = [
    Math.max(sense.time[0]!, current?.time[0] ?? -Infinity),
    Math.min(sense.time.at(-1)!, current?.time.at(-1) ?? Infinity),
  ];
  const step = Math.max(LEAST_STEP, (end - start) / MOST_STEPS, shortest(sense));
  const steps = Math.floor((end - start) / step + 1e-6);
  if (!(steps >= 20))
    throw new FitError(
      at,
      `Sense voltage and current must be captured together over at least 20 samples, but share ${Math.max(0, steps)}: capture both on one trigger.`,
    );
  const times = Float64Array.from({ length: steps + 1 }, (_, k) => start + k * step);
  const flowing = current ? times.map((t) => straight(current, t)) : pulseCurrent(pulses!, times, at);
  const rest = restUntil(flowing);
  const zero = current && rest >= 5 ? mean(flowing.subarray(0, rest)) : 0;
  const drive = flowing.map((i) => i - zero);
  const volts = meansOf(sense, times);
  const level = rest >= 5 ? mean(volts.subarray(0, rest - 1)) : 0;
  const said = current ? 0 : 1;
  return {
    name: fields.name ?? 'capture',
    bit: fields.bit,
    ...(fields.train ? { train: fields.train } : {}),
    drive: { start, step, current: drive, ...(fields.sag === undefined ? {} : { sag: fields.sag }) },
    sense: volts.map((v) => (v - level) / gain),
    spans: spansOf(fields, drive, start, step, end, at),
    doubts: { scale: fields.scaleDoubt ?? SCALE[said], start: fields.startDoubt ?? START[said], gain: 0.01 },
    instrument: fields.instrument ?? 'the one instrument',
  };
}

/** The spans stated, or every top of the current, its edges and what they ring after left out. */
function spansOf(
  { spans }: CaptureFields,
  drive: Float64Array,
  start: number,
  step: number,
  end: number,
  at: string,
): CoreCapture['spans'] {
  spans?.forEach(({ from, to }, i) => {
    if (from < to && to > start && from < end) return;
    throw new FitError(
      `${at}/spans/${i}`,
      `A span must lie in the capture (${formatQuantity(start, 's')} to ${formatQuantity(end, 's')}) and end after it begins, but runs from ${formatQuantity(from, 's')} to ${formatQuantity(to, 's')}: give times of the capture's own axis.`,
    );
  });
  if (spans) return spans.map(({ from, to }) => [from, to]);
  const greatest = drive.reduce((most, i) => Math.max(most, Math.abs(i)), 0);
  const tops: [number, number][] = [];
  let from = -1;
  for (let k = 0; k <= drive.length; k++) {
    const high = k < drive.length && Math.abs(drive[k]!) > TOP * greatest;
    if (high && from < 0) from = k;
    if (high || from < 0) continue;
    if (k - from >= 5) tops.push([start + from * step, start + (k - 1) * step]);
    from = -1;
  }
  if (tops.length > 0) return tops;
  throw new FitError(
    at,
    'The current must stand on a top for at least 5 samples, and does not: sample it more densely, or state the spans to compare.',
  );
}
/** A top: from here on of the greatest current. */
const TOP = 0.8;

function pulseCurrent(
  pulses: NonNullable<CaptureFields['pulses']>,
  times: Float64Array,
  at: string,
): Float64Array {
  try {
    const first = times[0]!;
    const inOrder = [...pulses].sort((a, b) => a.start - b.start);
    const pieces = pulseDrive(
      inOrder.map((pulse) => ({ ...pulse, start: pulse.start - first })),
      times.at(-1)! - first,
    );
    let piece = 0;
    return times.map((t) => {
      while (piece < pieces.length - 1 && t - first > pieces[piece]!.end) piece++;
      const { end, at: value } = pieces[piece]!;
      return t - first > end ? 0 : value(t - first);
    });
  } catch (error) {
    if (error instanceof RangeError)
      throw new FitError(
        `${at}/pulses`,
        'Each pulse must begin within the capture and after the one before has ended, and be wider than the mean of its rise and fall: give times of the capture itself.',
      );
    throw error;
  }
}

/** Samples before the current first moves. */
function restUntil(current: Float64Array): number {
  const greatest = current.reduce((most, i) => Math.max(most, Math.abs(i)), 0);
  const early = mean(current.subarray(0, 5));
  const moved = current.findIndex((i) => Math.abs(i - early) > DRIVEN * greatest);
  return Math.max(0, moved < 0 ? current.length : moved);
}

const mean = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;

/** s: typical distance of samples. */
const shortest = ({ time }: Trace): number => (time.at(-1)! - time[0]!) / (time.length - 1);

/** Straight between samples; the ends hold beyond them. */
const straight = (trace: Trace, t: number): number => valueAt(trace, Math.min(t, trace.time.at(-1)!));

/** Means over each step between instants, of straight lines between the samples. */
function meansOf(trace: Trace, times: Float64Array): Float64Array {
  const { time, value } = trace;
  const area = new Float64Array(time.length);
  for (let k = 1; k < time.length; k++)
    area[k] = area[k - 1]! + ((value[k]! + value[k - 1]!) / 2) * (time[k]! - time[k - 1]!);
  let k = 0;
  const until = times.map((t) => {
    while (k < time.length - 2 && time[k + 1]! <= t) k++;
    return area[k]! + ((value[k]! + straight(trace, t)) / 2) * (t - time[k]!);
  });
  return Float64Array.from(
    { length: times.length - 1 },
    (_, n) => (until[n + 1]! - until[n]!) / (times[n + 1]! - times[n]!),
  );
}
