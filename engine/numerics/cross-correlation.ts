import FFT from 'fft.js';

/**
 * Cross-correlation of two uniformly sampled traces through the Fourier transform, every lag at once.
 */
export interface LaggedMatch {
  /** Samples by which `moving` must be delayed to lie on `fixed`; may be fractional (parabola through the peak). */
  readonly lag: number;
  /** Correlation coefficient over the overlap at the nearest whole lag, -1..1; negative: reversed polarity. */
  readonly coefficient: number;
}

export interface MatchOptions {
  /** Least share of the shorter trace that must overlap (default 0.5). */
  readonly overlap?: number;
  /** Admit a reversed polarity (default true). */
  readonly reversed?: boolean;
  /** Greatest magnitude of lag in samples (default: any). */
  readonly maxLag?: number;
  /** Matches given at most (default 12). */
  readonly most?: number;
}

/** fft.js types its class as callable only; this is what is used of it. */
interface Transform {
  createComplexArray(): number[];
  realTransform(out: number[], data: ArrayLike<number>): void;
  completeSpectrum(spectrum: number[]): void;
  inverseTransform(out: number[], data: ArrayLike<number>): void;
}
const newTransform = (size: number): Transform => new FFT(size) as unknown as Transform;

/** Sums over n of a[n + lag] b[n] for lag = -(b.length - 1) .. a.length - 1; entry 0 is the most negative lag. */
export function correlationSums(a: Float64Array, b: Float64Array): Float64Array {
  let size = 2;
  while (size < a.length + b.length) size *= 2;
  const fft = newTransform(size);
  const spectrum = (values: Float64Array): number[] => {
    const padded = Array.from({ length: size }, (_, i) => (i < values.length ? values[i] : 0));
    const out = fft.createComplexArray();
    fft.realTransform(out, padded);
    fft.completeSpectrum(out);
    return out;
  };
  const [fa, fb] = [spectrum(a), spectrum(b)];
  const product = fft.createComplexArray();
  for (let i = 0; i < 2 * size; i += 2) {
    product[i] = fa[i] * fb[i] + fa[i + 1] * fb[i + 1];
    product[i + 1] = fa[i + 1] * fb[i] - fa[i] * fb[i + 1];
  }
  const back = fft.createComplexArray();
  fft.inverseTransform(back, product);
  const count = a.length + b.length - 1;
  return Float64Array.from({ length: count }, (_, k) => back[2 * ((k - (b.length - 1) + size) % size)]);
}

/** Two maxima are two matches when the coefficient between them falls below this share of the lower one. */
const VALLEY = 0.8;
/** Maxima below this share of the best are none. */
const LEAST = 0.3;

/**
 * The lags at which `moving` matches `fixed`, best first: the maxima of the correlation coefficient over the
 * overlap, so that neither offset nor gain matters; of maxima that no valley parts only the highest. Empty when no
 * lag has enough overlap or either trace is flat.
 */
export function bestLags(
  fixed: Float64Array,
  moving: Float64Array,
  options: MatchOptions = {},
): LaggedMatch[] {
  const { reversed = true, most = 12 } = options;
  const coefficients = coefficientsAt(fixed, moving, options);
  const worth = (k: number): number => (reversed ? Math.abs(coefficients[k]) : coefficients[k]);
  const maxima = [...coefficients.keys()]
    .filter((k) => worth(k) > 0 && !(worth(k) < worth(k - 1)) && !(worth(k) <= worth(k + 1)))
    .sort((a, b) => worth(b) - worth(a));
  const found: number[] = [];
  for (const k of maxima) {
    if (found.length >= most || worth(k) < LEAST * worth(maxima[0])) break;
    if (found.every((other) => valleyBetween(coefficients, k, other))) found.push(k);
  }
  return found.map((k) => ({
    lag: k - (moving.length - 1) + summit(coefficients, k),
    coefficient: coefficients[k],
  }));
}

/** Does the coefficient, taken with the sign of `k`, sink well below `k` on the way to `other`? */
function valleyBetween(coefficients: Float64Array, k: number, other: number): boolean {
  const own = coefficients[k];
  const step = Math.sign(other - k);
  for (let i = k + step; i !== other + step; i += step) {
    if (!(coefficients[i] * Math.sign(own) >= VALLEY * Math.abs(own))) return true;
  }
  return false;
}

/** Where the parabola through a maximum and its neighbours has its top, in samples from the maximum. */
function summit(coefficients: Float64Array, k: number): number {
  const [y0, y1, y2] = [coefficients[k - 1], coefficients[k], coefficients[k + 1]];
  const bend = y0 - 2 * y1 + y2;
  const shift = Number.isFinite(bend) && bend !== 0 ? (0.5 * (y0 - y2)) / bend : 0;
  return Math.max(-0.5, Math.min(0.5, shift));
}

/** The coefficient at every lag, entry 0 the most negative one; NaN where the overlap is too short or flat. */
function coefficientsAt(fixed: Float64Array, moving: Float64Array, options: MatchOptions): Float64Array {
  const { overlap = 0.5, maxLag = Infinity } = options;
  const sums = correlationSums(fixed, moving);
  const [sumF, sumM] = [runningSums(fixed, 1), runningSums(moving, 1)];
  const [squareF, squareM] = [runningSums(fixed, 2), runningSums(moving, 2)];
  const totalF = totalVariance(sumF, squareF);
  const least = Math.max(3, overlap * Math.min(fixed.length, moving.length));
  const coefficients = new Float64Array(sums.length).fill(NaN);
  for (let k = 0; k < sums.length; k++) {
    const lag = k - (moving.length - 1);
    const from = Math.max(0, lag);
    const to = Math.min(fixed.length, moving.length + lag);
    const n = to - from;
    if (n < least || Math.abs(lag) > maxLag) continue;
    const f = sumF[to] - sumF[from];
    const m = sumM[to - lag] - sumM[from - lag];
    const varF = squareF[to] - squareF[from] - (f * f) / n;
    const varM = squareM[to - lag] - squareM[from - lag] - (m * m) / n;
    // A variance lost in rounding of its own sums is a flat stretch.
    if (varF <= 1e-12 * squareF[fixed.length] || varM <= 1e-12 * squareM[moving.length]) continue;
    // A match over a part of what is fixed must not outdo an equal one over all of it: weight by the share of variance.
    const share = Math.sqrt(Math.min(1, varF / totalF));
    coefficients[k] = ((sums[k] - (f * m) / n) / Math.sqrt(varF * varM)) * share;
  }
  return coefficients;
}

function runningSums(values: Float64Array, power: 1 | 2): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i] + values[i] ** power;
  return sums;
}

function totalVariance(sums: Float64Array, squares: Float64Array): number {
  const n = sums.length - 1;
  return squares[n] - sums[n] ** 2 / n || 1;
}
