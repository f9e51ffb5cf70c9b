import FFT from 'fft.js';
import { amplifierInput } from './amplifier.ts';
import type { Amplifier } from '../design/sense.ts';

/** Samples of the transform per sample given, so that straight lines between samples stay straight lines. */
const OVERSAMPLE = 4;
const LARGEST = 2 ** 18;

/** One period of an amplifier that has seen the same period for ever. */
export interface SteadyState {
  /** V at the output of the linear part, gain included, at the times given. */
  readonly output: Float64Array;
  /** V on the coupling capacitor at the start of the period, at the amplifier's input (0 when DC coupled). */
  readonly coupling: number;
}

/**
 * Steady state of divider, clamp, high-pass and poles at the repetition rate of the trace, by Fourier series:
 * what AC coupling makes of rate and data is in it. Limit and recovery are not (they are not linear).
 *
 * @param time uniform samples over one period; the period is the time from the first sample to the last, which
 *   repeats the first
 * @param u differential sense voltage, V
 * @param commonMode V
 */
export function periodicSteadyState(
  amplifier: Amplifier,
  time: Float64Array,
  u: Float64Array,
  commonMode: Float64Array,
): SteadyState {
  const input = amplifierInput(amplifier, u, commonMode);
  const cells = input.length - 1;
  const period = time[cells] - time[0];
  const n = Math.min(LARGEST, 2 ** Math.ceil(Math.log2(OVERSAMPLE * cells)));
  const fine = Float64Array.from({ length: n }, (_, k) => {
    const x = (k * cells) / n;
    const i = Math.floor(x);
    return input[i] + (input[i + 1] - input[i]) * (x - i);
  });
  const low = filterPeriodic(fine, period, (w) => lowPassResponse(amplifier, w));
  const output = filterPeriodic(low, period, (w) => highPassResponse(amplifier, w));
  // v = x - q at every instant, and x at the start is known: what the capacitor takes is the difference.
  const unfiltered =
    amplifier.highPass > 0 ? filterPeriodic(fine, period, (w) => highPassResponse(amplifier, w)) : fine;
  return {
    output: Float64Array.from(
      { length: cells + 1 },
      (_, i) => amplifier.gain * periodicAt(output, (i * n) / cells),
    ),
    coupling: fine[0] - unfiltered[0],
  };
}

/**
 * V on the coupling capacitor when cycles of several kinds follow each other at random, each with its share of the
 * cycles: the mean of their inputs, as long as a cycle is short against the time constant of the coupling. Pass it
 * to `amplify` as `coupling`. 0 when DC coupled.
 */
export function meanCoupling(
  amplifier: Amplifier,
  cycles: readonly {
    readonly share: number;
    readonly u: Float64Array;
    readonly commonMode: Float64Array;
  }[],
): number {
  if (amplifier.highPass === 0) return 0;
  let sum = 0;
  for (const { share, u, commonMode } of cycles)
    sum += share * mean(amplifierInput(amplifier, u, commonMode));
  return sum;
}

/** How much lower a quiet line lies at the output than with DC coupling, referred to the sense wire, V. */
export function baselineShift(amplifier: Amplifier, coupling: number): number {
  return coupling / amplifier.divider;
}

/** Trapezium mean of uniform samples. */
function mean(values: Float64Array): number {
  const n = values.length;
  let sum = -(values[0] + values[n - 1]) / 2;
  for (let i = 0; i < n; i++) sum += values[i];
  return sum / (n - 1);
}

interface Complex {
  readonly re: number;
  readonly im: number;
}

/** jw / (jw + w_h); 1 without a high-pass. */
function highPassResponse({ highPass }: Amplifier, w: number): Complex {
  if (highPass === 0) return { re: 1, im: 0 };
  const x = w / (2 * Math.PI * highPass);
  return { re: (x * x) / (1 + x * x), im: x / (1 + x * x) };
}

/** Product of w_i / (jw + w_i) over the finite poles. */
function lowPassResponse({ bandwidth, secondPole }: Amplifier, w: number): Complex {
  let re = 1;
  let im = 0;
  for (const pole of [bandwidth, secondPole]) {
    const x = Number.isFinite(pole) ? w / (2 * Math.PI * pole) : 0;
    const d = 1 + x * x;
    [re, im] = [(re + im * x) / d, (im - re * x) / d];
  }
  return { re, im };
}

/** Real periodic samples through a frequency response, length a power of two. */
function filterPeriodic(
  values: Float64Array,
  period: number,
  response: (w: number) => Complex,
): Float64Array {
  const n = values.length;
  const fft = new FFT(n);
  const spectrum = fft.createComplexArray() as number[];
  const back = fft.createComplexArray() as number[];
  fft.realTransform(spectrum, Array.from(values));
  for (let k = 0; k <= n / 2; k++) {
    const h = response((2 * Math.PI * k) / period);
    const re = spectrum[2 * k];
    const im = spectrum[2 * k + 1];
    spectrum[2 * k] = re * h.re - im * h.im;
    spectrum[2 * k + 1] = k === n / 2 ? 0 : re * h.im + im * h.re;
  }
  // The upper half is not there until it is completed from the lower.
  fft.completeSpectrum(spectrum);
  fft.inverseTransform(back, spectrum);
  return Float64Array.from({ length: n }, (_, k) => back[2 * k]);
}

function periodicAt(values: Float64Array, x: number): number {
  const n = values.length;
  const i = Math.floor(x) % n;
  const next = (i + 1) % n;
  return values[i] + (values[next] - values[i]) * (x - Math.floor(x));
}
