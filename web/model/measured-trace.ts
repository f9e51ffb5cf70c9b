import { referToWire } from '../../engine/sense-amplifier/referred.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Observed } from '../../engine/fitting/compare.ts';
import { polarityOf } from '../../engine/mat/winding.ts';
import { amplify } from '../../engine/sense-amplifier/amplifier.ts';
import { sampleAt, type Samples } from '../charts/decimate.ts';

/** A capture kept for the main panel: lined up, on the prediction's scale, time from the start of read. */
export interface MeasuredTrace {
  readonly label: string;
  readonly time: Float64Array;
  readonly value: Float64Array;
  readonly observed: Observed;
}

/** Most samples drawn of one trace. */
const MOST = 20_000;

/** Any rising samples as evenly spaced ones, by straight lines; `step` left out: as many as there are. */
export function evenly(time: Float64Array, value: Float64Array, step?: number): Samples {
  const last = time.length - 1;
  const span = (time[last] ?? 0) - (time[0] ?? 0);
  const asked = step ?? (last > 0 ? span / last : 1);
  const count = Math.max(
    1,
    Math.min(step === undefined ? MOST : 10 * MOST, Math.floor(span / asked + 1e-6) + 1),
  );
  const each = step ?? (count > 1 ? span / (count - 1) : 1);
  const values = new Float64Array(count);
  let k = 0;
  for (let i = 0; i < count; i++) {
    const t = (time[0] ?? 0) + i * each;
    while (k < last - 1 && time[k + 1]! < t) k++;
    const width = time[k + 1]! - time[k]!;
    const part = last > 0 && width > 0 ? Math.min(1, Math.max(0, (t - time[k]!) / width)) : 0;
    values[i] = value[k]! + part * ((value[k + 1] ?? value[k]!) - value[k]!);
  }
  return { start: time[0] ?? 0, step: each, values };
}

/**
 * The trace as the main panel shows voltages: as the latch would see it, referred to the sense wire and one detector
 * delay after the signal. A capture
 * of the sense wire goes through the design's amplifier; one of the amplifier's output is divided by its gain.
 */
export function heardByDetector(design: Design, trace: MeasuredTrace): Samples {
  const wire = evenly(trace.time, trace.value, design.numerics.output);
  const even = { ...wire, start: wire.start + design.detector.delay };
  const values = Float64Array.from(even.values);
  if (trace.observed === 'amplifier') return { ...even, values: referToWire(design.amplifier, values) };
  const time = values.map((_, i) => wire.start + i * wire.step);
  const { row, column } = design.selected;
  const sign = polarityOf(design.mat, design.winding)[row * design.mat.columns + column]!;
  const { referred } = amplify(design, time, values, new Float64Array(values.length), { sign });
  return { ...even, values: referred };
}

export interface MeasuredLine {
  readonly label: string;
  readonly samples: Samples;
}

let last: { readonly design: Design; readonly trace: MeasuredTrace; readonly line: MeasuredLine } | undefined;

/** The line for the main panel of one run; the last one is kept, since a drag asks for it many times. */
export function measuredIn(
  { design }: { readonly design: Design },
  trace: MeasuredTrace | undefined,
): MeasuredLine | undefined {
  if (!trace) return undefined;
  if (last?.design !== design || last.trace !== trace)
    last = { design, trace, line: { label: trace.label, samples: heardByDetector(design, trace) } };
  return last.line;
}

/** Values at other instants; NaN where there is no sample. */
export function samplesAt(time: Float64Array, samples: Samples): Float64Array {
  const end = samples.start + (samples.values.length - 1) * samples.step;
  return time.map((t) => (t < samples.start || t > end ? NaN : sampleAt(samples, t)));
}
