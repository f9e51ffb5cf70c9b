import FFT from 'fft.js';
import type { Simulation } from '../solver/result.ts';
import { strobeSearch } from './envelope.ts';

/** Amplitude spectral density of a single event: |integral of v e^(-jwt) dt|, V/Hz, at frequencies in Hz. */
export interface Spectrum {
  readonly frequency: Float64Array;
  readonly density: Float64Array;
}

/**
 * Spectrum of a trace that is nothing before and after, by a Fourier transform of the samples padded with zeros to
 * a power of two at least twice as long. Its value at 0 Hz is the area under the trace, V s.
 */
export function spectrumOf(time: Float64Array, values: Float64Array): Spectrum {
  const h = (time[time.length - 1] - time[0]) / (time.length - 1);
  const n = 2 ** Math.ceil(Math.log2(2 * values.length));
  const fft = new FFT(n);
  const padded = Array.from({ length: n }, (_, i) => (i < values.length ? values[i] : 0));
  const out = fft.createComplexArray() as number[];
  fft.realTransform(out, padded);
  const half = n / 2 + 1;
  return {
    frequency: Float64Array.from({ length: half }, (_, k) => k / (n * h)),
    density: Float64Array.from({ length: half }, (_, k) => h * Math.hypot(out[2 * k], out[2 * k + 1])),
  };
}

/** The selected core's ONE against what disturbs it, both before the amplifier, over the read part of the cycle. */
export interface SignalAgainstNoise {
  readonly frequency: Float64Array;
  /** V/Hz. */
  readonly one: Float64Array;
  readonly noise: Float64Array;
  /** Hz: the lowest frequency from which on the noise is the greater; Infinity when there is none. */
  readonly crossover: number;
}

/** @throws RangeError when the run was not split by cause. */
export function spectrumOfOne(run: Simulation): SignalAgainstNoise {
  const { contributions, time, design } = run;
  if (contributions === undefined) throw new RangeError('The run was not split by cause.');
  const { end } = strobeSearch(design);
  const length = Math.max(
    2,
    time.findIndex((t) => t > end),
  );
  const cut = time.slice(0, length);
  const noise = cut.map(
    (_, i) =>
      contributions.directCoupling[i] +
      contributions.halfSelectedReversible[i] +
      contributions.halfSelectedIrreversible[i],
  );
  const one = spectrumOf(cut, contributions.selectedCore.slice(0, length));
  const other = spectrumOf(cut, noise);
  const at = one.density.findIndex((density, k) => other.density[k] > density);
  return {
    frequency: one.frequency,
    one: one.density,
    noise: other.density,
    crossover: at < 0 ? Infinity : one.frequency[at],
  };
}
