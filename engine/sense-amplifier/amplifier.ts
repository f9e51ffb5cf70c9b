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

export interface Amplified {
  /** V at the detector, multiplied by gain; rectified or signed as the design says. */
  readonly output: Float64Array;
  /** The same divided by divider times gain: V at the sense wire, as thresholds are stated. */
  readonly referred: Float64Array;
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
  const { amplifier, detector } = design;
  const input = amplifierInput(amplifier, u, commonMode);
  const demanded = linearResponse(amplifier, time, input, options.coupling ?? 0);
  const limited = limitOutput(amplifier, time, demanded);
  const sign = options.sign ?? 1;
  const output = limited.map(amplifier.polarity === 'either' ? Math.abs : (value) => value * sign);
  const referred = referToWire(amplifier, output);
  const { on, pulses } = detect(time, referred, detector);
  return { output, referred, detector: on, pulses };
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
  return u.map((value, i) => {
    const clamped = Math.max(-inputClamp, Math.min(inputClamp, value * divider));
    return leak === 0 ? clamped : clamped + leak * commonMode[i];
  });
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
  return runCascade(cascade, h, input, state).map((value) => value * amplifier.gain);
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
  return demanded.map((value, i) => {
    if (Math.abs(value) >= outputLimit) {
      side = Math.sign(value);
      releasedAt = Infinity;
      return side * outputLimit;
    }
    if (releasedAt === Infinity) {
      const before = side * demanded[i - 1];
      const now = side * value;
      const fraction = (before - outputLimit) / (before - now);
      releasedAt = time[i - 1] + (time[i] - time[i - 1]) * fraction;
    }
    return time[i] < releasedAt + recovery ? side * outputLimit : value;
  });
}
