import { Matrix, inverse, solve } from 'ml-matrix';

/** A polynomial through scattered points by least squares, in u = (x - centre) / halfWidth. */
export interface PolynomialFit {
  readonly valueAt: (x: number) => number;
  readonly slopeAt: (x: number) => number;
  readonly curvatureAt: (x: number) => number;
  /** Standard errors of value and slope, from the scatter about the polynomial. */
  readonly valueError: (x: number) => number;
  readonly slopeError: (x: number) => number;
}

/** Needs more points than `degree + 1`; throws RangeError otherwise. */
export function fitPolynomial(x: ArrayLike<number>, y: ArrayLike<number>, degree: number): PolynomialFit {
  const n = x.length;
  if (n <= degree + 1) {
    throw new RangeError(
      `A polynomial of degree ${degree} needs at least ${degree + 2} points; received ${n}.`,
    );
  }
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < n; i++) [low, high] = [Math.min(low, x[i]), Math.max(high, x[i])];
  const [centre, half] = [(low + high) / 2, (high - low) / 2 || 1];
  const powers = (at: number, derivative: 0 | 1 | 2): number[] => {
    const u = (at - centre) / half;
    return Array.from({ length: degree + 1 }, (_, k) => {
      if (derivative === 0) return u ** k;
      if (derivative === 1) return k === 0 ? 0 : (k * u ** (k - 1)) / half;
      return k < 2 ? 0 : (k * (k - 1) * u ** (k - 2)) / half ** 2;
    });
  };
  const A = new Matrix(Array.from({ length: n }, (_, i) => powers(x[i], 0)));
  const b = Matrix.columnVector(Array.from({ length: n }, (_, i) => y[i]));
  const coefficients = solve(A, b).to1DArray();
  const dot = (p: readonly number[]): number => p.reduce((sum, v, k) => sum + v * coefficients[k], 0);
  let square = 0;
  for (let i = 0; i < n; i++) square += (y[i] - dot(powers(x[i], 0))) ** 2;
  const covariance = inverse(A.transpose().mmul(A)).mul(square / (n - degree - 1));
  const error = (p: number[]): number =>
    Math.sqrt(Math.max(0, Matrix.rowVector(p).mmul(covariance).mmul(Matrix.columnVector(p)).get(0, 0)));
  return {
    valueAt: (at) => dot(powers(at, 0)),
    slopeAt: (at) => dot(powers(at, 1)),
    curvatureAt: (at) => dot(powers(at, 2)),
    valueError: (at) => error(powers(at, 0)),
    slopeError: (at) => error(powers(at, 1)),
  };
}
