import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';

/** What stands between a voltage and the file of an instrument. All of it may be left out. */
export interface Instrument {
  /** s between samples. */
  readonly interval?: number;
  /** V rms of one sample, before the probe. */
  readonly noise?: number;
  /** Hz of a single pole. */
  readonly bandwidth?: number;
  /** What the file says over what is there: 0.1 where a x10 probe was not told. */
  readonly probe?: number;
  readonly offset?: number;
  /** V amplitude and Hz. */
  readonly hum?: readonly [number, number];
  /** V of one step. */
  readonly step?: number;
  /** V, magnitude at which it clips. */
  readonly clip?: number;
  /** Sweeps averaged. */
  readonly averaged?: number;
  /** s rms of the trigger from sweep to sweep. */
  readonly jitter?: number;
  /** s on its own axis at which the read starts. */
  readonly delay?: number;
  /** s recorded before the read and after. */
  readonly before?: number;
  readonly until?: number;
  readonly seed?: number;
  readonly index?: number;
}

export interface Captured {
  readonly time: Float64Array;
  readonly value: Float64Array;
}

/** A trace given every `step` from 0 as an instrument would record it. */
export function recordTrace(trace: Float64Array, step: number, set: Instrument = {}): Captured {
  const { interval = 2e-9, noise = 0, probe = 1, offset = 0, delay = 0, before = 60e-9 } = set;
  const until = set.until ?? (trace.length - 1) * step;
  const random = randomStream(set.seed ?? 1, set.index ?? 0);
  const normal = normalDeviates(random);
  const seen = set.bandwidth === undefined ? trace : onePole(trace, step, set.bandwidth);
  const phase = random() * interval;
  const count = Math.floor((until + before) / interval);
  const time = Float64Array.from({ length: count }, (_, i) => -before + phase + i * interval);
  const sweeps = set.jitter === undefined ? 1 : (set.averaged ?? 1);
  const sum = new Float64Array(count);
  for (let sweep = 0; sweep < sweeps; sweep++) {
    const late = set.jitter === undefined ? 0 : set.jitter * normal();
    for (let i = 0; i < count; i++) sum[i]! += valueAt(seen, (time[i]! - late) / step) / sweeps;
  }
  const quiet = noise / Math.sqrt(set.averaged ?? 1);
  const start = random() * 2 * Math.PI;
  const value = sum.map((v, i) => {
    const hum =
      set.hum === undefined ? 0 : set.hum[0] * Math.sin(2 * Math.PI * set.hum[1] * time[i]! + start);
    let read = probe * (v + quiet * normal() + hum) + offset;
    if (set.clip !== undefined) read = Math.max(-set.clip, Math.min(set.clip, read));
    return set.step === undefined ? read : Math.round(read / set.step) * set.step;
  });
  return { time: time.map((s) => s + delay), value };
}

function onePole(trace: Float64Array, step: number, bandwidth: number): Float64Array {
  const keep = Math.exp(-2 * Math.PI * bandwidth * step);
  let state = trace[0] ?? 0;
  return trace.map((v) => (state = keep * state + (1 - keep) * v));
}

function valueAt(trace: Float64Array, at: number): number {
  if (at <= 0) return trace[0]!;
  const k = Math.min(Math.floor(at), trace.length - 2);
  return trace[k]! + Math.min(1, at - k) * (trace[k + 1]! - trace[k]!);
}

/** The text of a file: a time column and one or more others. */
export function captureCsv(
  time: Float64Array,
  columns: Readonly<Record<string, Float64Array>>,
  preamble: readonly string[] = [],
): string {
  const names = Object.keys(columns);
  return [
    ...preamble.map((line) => `# ${line}`),
    ['time [ns]', ...names].join(','),
    ...Array.from(time, (t, i) =>
      [(t * 1e9).toFixed(3), ...names.map((name) => columns[name]![i]!.toPrecision(7))].join(','),
    ),
    '',
  ].join('\n');
}
