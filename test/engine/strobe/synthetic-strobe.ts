import { buildEnvelope } from '../../../engine/strobe/envelope.ts';
import type { StrobeEnvelope, StrobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { samples } from '../sense-amplifier/sense-channel.ts';

export const exact: StrobeUncertainties = {
  threshold: 0,
  guard: 0,
  delay: 0,
  slope: 0,
  hysteresis: 0,
  aperture: 0,
  jitter: 0,
  noise: 0,
};

type Trace = (t: number) => number;

/** sech^2 of the given peak, centre and full width at half height, s; cosh^2(x) = 2 at x = 0.881374. */
export function bell(peak: number, centre: number, width: number): Trace {
  const scale = (2 * Math.acosh(Math.SQRT2)) / width;
  return (t) => peak / Math.cosh((t - centre) * scale) ** 2;
}

const END = 600e-9;

/** Envelope of traces given as functions of time, s to V, from 0 to 600 ns. */
export function envelopeFrom(
  ones: readonly Trace[],
  zeros: readonly Trace[],
  options: { readonly step?: number; readonly search?: StrobeEnvelope['search'] } = {},
): StrobeEnvelope {
  const time = samples(END, options.step ?? 1e-9);
  return buildEnvelope(
    time,
    [
      ...ones.map((f, i) => ({ name: `one ${i + 1}`, bit: 1 as const, referred: time.map((t) => f(t)) })),
      ...zeros.map((f, i) => ({ name: `zero ${i + 1}`, bit: 0 as const, referred: time.map((t) => f(t)) })),
    ],
    options.search ?? { start: 0, end: END },
  );
}
