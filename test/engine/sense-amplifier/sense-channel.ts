import type { Design } from '../../../engine/design/design.ts';
import type { Amplifier, Detector, Strobe } from '../../../engine/design/sense.ts';

/** Ideal amplifier, detector and strobe; a test names only what it departs in. */
export const idealAmplifier: Amplifier = {
  divider: 1,
  inputResistance: Infinity,
  inputClamp: Infinity,
  gain: 1,
  bandwidth: Infinity,
  secondPole: Infinity,
  highPass: 0,
  outputLimit: Infinity,
  recovery: 0,
  commonModeRejection: Infinity,
  polarity: 'address',
};

export const idealDetector: Detector = {
  threshold: 0.02,
  hysteresis: 0,
  uncertainty: 0,
  delay: 0,
  slope: 0,
  noise: 0,
};

const idealStrobe: Strobe = { time: undefined, aperture: 0, jitter: 0 };

/** The sense channel alone: the parts of a design that the amplifier and the strobe analysis read. */
export function senseChannel(
  parts: { amplifier?: Partial<Amplifier>; detector?: Partial<Detector>; strobe?: Partial<Strobe> } = {},
): Design {
  return {
    amplifier: { ...idealAmplifier, ...parts.amplifier },
    detector: { ...idealDetector, ...parts.detector },
    strobe: { ...idealStrobe, ...parts.strobe },
  } as unknown as Design;
}

/** Samples `step` apart from 0 to `end` inclusive, s. */
export function samples(end: number, step: number): Float64Array {
  return Float64Array.from({ length: Math.round(end / step) + 1 }, (_, i) => i * step);
}

/** Greatest difference of two traces of one length. */
export function greatestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let greatest = 0;
  for (let i = 0; i < a.length; i++) greatest = Math.max(greatest, Math.abs(a[i] - b[i]));
  return greatest;
}
