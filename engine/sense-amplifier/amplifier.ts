import { referToWire } from './referred.ts';
import type { Design } from '../design/design.ts';
import type { Amplifier } from '../design/sense.ts';
import { detect } from './detector.ts';
import type { DetectorPulse } from './detector.ts';
import { cascadeState, makeCascade, runCascade } from '../numerics/linear-cascade.ts';
import type { Cascade } from '../numerics/linear-cascade.ts';

export interface AmplifyOptions {
  /** Polarity of the selected core on the wire, used by polarity 'address' (default +1). */
  readonly sign?: number;
  /** V on the coupling capacitor before the first sample, at the amplifier's input (default 0: long quiet). */
  readonly coupling?: number;
}

/** The amplifier's output on one trace; V, one value a sample. */
export interface AmplifierOutput {
  /** V at the detector, multiplied by gain; rectified or signed as the design says. */
  readonly output: Float64Array;
  /** The same divided by divider times gain: V at the sense wire, as thresholds are stated. */
  readonly referred: Float64Array;
}

export interface Amplified extends AmplifierOutput {
  /** 1 while the detector is high. */
  readonly detector: Uint8Array;
  readonly pulses: readonly DetectorPulse[];
}

/**
 * The sense amplifier and its detector on one trace.
 *
 * @param time uniform samples, s from the start of read
 * @param u differential sense voltage v_B - v_A, V
 * @param commonMode mean of the two terminals, V
 */
export function amplify(
  design: Design,
  time: Float64Array,
  u: Float64Array,
  commonMode: Float64Array,
  options: AmplifyOptions = {},
): Amplified {
  const heard = amplifierOutput(design.amplifier, time, u, commonMode, options);
  const { on, pulses } = detect(time, heard.referred, design.detector);
  return { ...heard, detector: on, pulses };
}

/** The same without its detector. Hundreds of these make a strobe window: plain loops, no closure a sample. */
export function amplifierOutput(
  amplifier: Amplifier,
  time: Float64Array,
  u: Float64Array,
  commonMode: Float64Array,
  { sign = 1, coupling = 0 }: AmplifyOptions = {},
): AmplifierOutput {
  const input = amplifierInput(amplifier, u, commonMode);
  const output = limitOutput(amplifier, time, linearResponse(amplifier, time, input, coupling));
  const either = amplifier.polarity === 'either';
  for (let i = 0; i < output.length; i++) output[i] = either ? Math.abs(output[i]) : output[i] * sign;
  return { output, referred: referToWire(amplifier, output) };
}

/**
 * What reaches the first stage, V: divider, hard clamp of the differential voltage, and the part of the common
 * mode that the balance lets through (its rejection in dB is of voltage: error = v_cm / 10^(dB/20)).
 */
export function amplifierInput(
  amplifier: Amplifier,
  u: Float64Array,
  commonMode: Float64Array,
): Float64Array {
  const { divider, inputClamp, commonModeRejection } = amplifier;
  const leak = Number.isFinite(commonModeRejection) ? divider * 10 ** (-commonModeRejection / 20) : 0;
  const input = new Float64Array(u.length);
  for (let i = 0; i < u.length; i++) {
    const clamped = Math.max(-inputClamp, Math.min(inputClamp, u[i] * divider));
    input[i] = leak === 0 ? clamped : clamped + leak * commonMode[i];
  }
  return input;
}

/** High-pass and poles of the amplifier as a cascade (angular frequencies). */
export function amplifierCascade(amplifier: Amplifier): Cascade {
  const w = 2 * Math.PI;
  return makeCascade(w * amplifier.highPass, [w * amplifier.bandwidth, w * amplifier.secondPole]);
}

/**
 * The linear part, gain included, V: exact for an input that is straight between samples. It starts at rest: the
 * low-pass poles settled on the first sample less the voltage of the coupling capacitor.
 */
export function linearResponse(
  amplifier: Amplifier,
  time: Float64Array,
  input: Float64Array,
  coupling = 0,
): Float64Array {
  const cascade = amplifierCascade(amplifier);
  const h = time.length > 1 ? (time[time.length - 1] - time[0]) / (time.length - 1) : 1;
  const state = cascadeState(cascade, input[0], coupling);
  const output = runCascade(cascade, h, input, state);
  for (let i = 0; i < output.length; i++) output[i] *= amplifier.gain;
  return output;
}

/**
 * Output limit with recovery as a storage time: from the instant at which the demanded output has come back under
 * the limit, the output stays at the limit for `recovery` more, then follows again. A plain model of a saturated
 * stage (common practice, no source).
 */
export function limitOutput(amplifier: Amplifier, time: Float64Array, demanded: Float64Array): Float64Array {
  const { outputLimit, recovery } = amplifier;
  let side = 0;
  let releasedAt = -Infinity;
  const output = new Float64Array(demanded.length);
  for (let i = 0; i < demanded.length; i++) {
    const value = demanded[i];
    if (Math.abs(value) >= outputLimit) {
      side = Math.sign(value);
      releasedAt = Infinity;
      output[i] = side * outputLimit;
      continue;
    }
    if (releasedAt === Infinity) {
      const before = side * demanded[i - 1];
      const now = side * value;
      const fraction = (before - outputLimit) / (before - now);
      releasedAt = time[i - 1] + (time[i] - time[i - 1]) * fraction;
    }
    output[i] = time[i] < releasedAt + recovery ? side * outputLimit : value;
  }
  return output;
}
