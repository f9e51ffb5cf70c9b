import type { Amplifier } from '../design/sense.ts';

/** Volts at the amplifier's output for each at the sense wire, while nothing limits it: divider times gain. */
export const wholeGain = ({ divider, gain }: Pick<Amplifier, 'divider' | 'gain'>): number => divider * gain;

/**
 * Amplifier output referred to the sense wire, V: what thresholds, margins and strobe traces are counted in. The one
 * place of this division; a single value is divided by `wholeGain`.
 */
export function referToWire(
  amplifier: Pick<Amplifier, 'divider' | 'gain'>,
  output: Float64Array,
): Float64Array {
  const scale = 1 / wholeGain(amplifier);
  const referred = new Float64Array(output.length);
  for (let i = 0; i < output.length; i++) referred[i] = output[i] * scale;
  return referred;
}
