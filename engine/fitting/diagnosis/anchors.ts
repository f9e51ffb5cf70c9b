import type { Design } from '../../design/design.ts';
import { lineUp, readOf } from '../align/line-up.ts';
import { cutTrace, type Trace } from '../align/trace-tools.ts';
import type { FitCapture } from '../fit-captures.ts';

/** s from the first sample at which a read is looked for where no line-up is found. */
const BEFORE = 60e-9;
/** s within which two places are one. */
const SAME = 8e-9;

/**
 * Where the read may start on a capture's own time: as the healthy design lies, either way up. Inhibit edges are many
 * times a bell and may be what is wrong, so it is also lined up with both cut off at the size of the read, and by the
 * read alone.
 */
export function anchorsOf(predicted: Trace, trace: Trace, capture: FitCapture, healthy: Design): number[] {
  const read = readOf(healthy);
  const most = predicted.value.reduce(
    (m, v, i) => (predicted.time[i] < read.to ? Math.max(m, Math.abs(v)) : m),
    0,
  );
  const cut = ({ time, value }: Trace, level: number): Trace => ({
    time,
    value: value.map((v) => Math.max(-1.2 * most, Math.min(1.2 * most, v - level))),
  });
  const forms: readonly [Trace, Trace][] = [
    [predicted, trace],
    [cut(predicted, 0), cut(trace, restOf(trace.value))],
    [cut(cutTrace(predicted, -Infinity, read.to), 0), cut(trace, restOf(trace.value))],
  ];
  const places = forms.flatMap(([model, seen]) =>
    (['as-predicted', 'reversed'] as const).flatMap((polarity) => {
      try {
        return [lineUp(model, seen, { part: capture.part, probeGain: 'free', polarity, read }).delay];
      } catch {
        return [];
      }
    }),
  );
  const apart = places.filter((at, i) => places.findIndex((other) => Math.abs(other - at) < SAME) === i);
  return apart.length > 0 ? apart : [trace.time[0] + BEFORE];
}

/** What a trace shows before anything happens. */
export function restOf(value: Float64Array): number {
  const quiet = [...value.subarray(0, Math.max(4, Math.floor(value.length * 0.03)))].sort((a, b) => a - b);
  return quiet[Math.floor(quiet.length / 2)];
}
