import type { Design } from '../design/design.ts';
import type { Detector } from '../design/sense.ts';
import type { StrobeReading } from '../solver/result.ts';

/** An interval in which the detector's output is high, s. */
export interface DetectorPulse {
  readonly start: number;
  readonly end: number;
}

export interface Detection {
  /** 1 while the output is high, at the samples. */
  readonly on: Uint8Array;
  /** The same as intervals, crossings interpolated between samples, propagation delay included. */
  readonly pulses: readonly DetectorPulse[];
}

/** Threshold in force at a signal time t, V at the sense wire: constant before the read, then rising by `slope`. */
export function thresholdAt(detector: Pick<Detector, 'threshold' | 'slope'>, t: number): number {
  return detector.threshold + detector.slope * Math.max(0, t);
}

/**
 * Threshold detector with hysteresis and delay on a trace referred to the sense wire: on at threshold + h/2, off
 * at threshold - h/2. A pulse that has not ended with the trace ends at its last sample. The trace is taken as
 * straight between samples.
 */
export function detect(time: Float64Array, referred: Float64Array, detector: Detector): Detection {
  const half = detector.hysteresis / 2;
  const above = (i: number): number => referred[i] - thresholdAt(detector, time[i]);
  const pulses: DetectorPulse[] = [];
  let start: number | undefined;
  for (let i = 0; i < time.length; i++) {
    const now = above(i);
    if (start === undefined ? now < half : now >= -half) continue;
    const level = start === undefined ? half : -half;
    const before = i > 0 ? above(i - 1) : now;
    const step = i > 0 ? time[i] - time[i - 1] : 0;
    const at = time[i] - (before === now ? 0 : (step * (now - level)) / (now - before)) + detector.delay;
    if (start === undefined) start = at;
    else {
      pulses.push({ start, end: at });
      start = undefined;
    }
  }
  if (start !== undefined) pulses.push({ start, end: Math.max(start, time[time.length - 1]) });
  return { on: sample(time, pulses), pulses };
}

function sample(time: Float64Array, pulses: readonly DetectorPulse[]): Uint8Array {
  const on = new Uint8Array(time.length);
  let p = 0;
  for (let i = 0; i < time.length; i++) {
    while (p < pulses.length && pulses[p].end < time[i]) p++;
    on[i] = p < pulses.length && pulses[p].start <= time[i] ? 1 : 0;
  }
  return on;
}

/** The latch: set when the detector is high at any instant of the aperture centred on `time`. */
export function latch(pulses: readonly DetectorPulse[], time: number, aperture: number): 0 | 1 {
  const from = time - aperture / 2;
  const to = time + aperture / 2;
  return pulses.some((p) => p.start <= to && p.end >= from) ? 1 : 0;
}

/** Value of a trace at any time, straight between samples, held beyond its ends. */
export function valueAt(time: Float64Array, values: Float64Array, t: number): number {
  const n = time.length;
  if (t <= time[0]) return values[0];
  if (t >= time[n - 1]) return values[n - 1];
  let i = Math.min(n - 2, Math.floor(((t - time[0]) / (time[n - 1] - time[0])) * (n - 1)));
  while (i > 0 && time[i] > t) i--;
  while (i < n - 2 && time[i + 1] < t) i++;
  return values[i] + ((values[i + 1] - values[i]) * (t - time[i])) / (time[i + 1] - time[i]);
}

/**
 * What the latch reads at a strobe time: the value is what the detector acts on at that instant, that is the
 * trace one propagation delay earlier.
 */
export function readStrobe(
  design: Design,
  time: Float64Array,
  referred: Float64Array,
  pulses: readonly DetectorPulse[],
  strobe: number,
): StrobeReading {
  const seen = strobe - design.detector.delay;
  return {
    time: strobe,
    threshold: thresholdAt(design.detector, seen),
    value: valueAt(time, referred, seen),
    bit: latch(pulses, strobe, design.strobe.aperture),
  };
}
