/** A function of parameters, where they stand, between which bounds, and how large they typically are. */
interface Differentiated {
  readonly evaluate: (at: Float64Array) => Float64Array;
  readonly p: Float64Array;
  /** The function's values at `p`. */
  readonly r: Float64Array;
  readonly scale: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/** Row-major Jacobian by central differences, or by one-sided ones at half the price; squeezed at a bound. */
export function differentiate(
  { evaluate, p, r, scale, lower, upper }: Differentiated,
  fraction: number,
  oneSided = false,
): Float64Array<ArrayBuffer> {
  const samples = r.length;
  const n = p.length;
  const jacobian = new Float64Array(samples * n);
  for (let j = 0; j < n; j++) {
    const h = fraction * Math.max(Math.abs(p[j]), 1e-3 * scale[j]);
    const up = Float64Array.from(p);
    const down = Float64Array.from(p);
    up[j] = Math.min(upper[j], p[j] + h);
    if (!oneSided || up[j] === p[j]) down[j] = Math.max(lower[j], p[j] - h);
    const [above, below] = [up, down].map((at) => (at[j] === p[j] ? r : evaluate(at)));
    const span = up[j] - down[j];
    for (let i = 0; i < samples; i++) {
      const slope = (above[i] - below[i]) / span;
      jacobian[i * n + j] = Number.isFinite(slope) ? slope : 0;
    }
  }
  return jacobian;
}

export function columnNorm(jacobian: Float64Array, j: number, n: number): number {
  let sum = 0;
  for (let i = j; i < jacobian.length; i += n) sum += jacobian[i] * jacobian[i];
  return Math.sqrt(sum);
}
