/**
 * One core by laws of the tests' own: what a prediction of the product is held against. It shares nothing with the
 * engine. Three shapes may differ from the engine's: how sharply the two knees turn, the bell, and the elastic part.
 */
export interface CoreLaw {
  /** Wb. */
  readonly flux: number;
  readonly squareness: number;
  /** A: where the static curve crosses zero, and its width (flux over four times the slope there, halved). */
  readonly coercive: number;
  readonly staticWidth: number;
  /** A: where the straight part of peak EMF against drive would start, and width of the turn. */
  readonly threshold: number;
  readonly dynamicWidth: number;
  /** ohm. */
  readonly rate: number;
  /** H, H, A: elastic slope when pushed further in, toward the knee, and the drive over which it changes. */
  readonly elasticSaturated: number;
  readonly elasticKnee: number;
  readonly bend: number;
  /** -1..1: the bell leans; 0.3 makes its rising side 30 % lower and its falling side 30 % higher. */
  readonly skew: number;
  /** 'other': the static knee turns as the error function, the dynamic one as a hyperbola. */
  readonly knee: 'exponential' | 'other';
  readonly elastic: 'hyperbolic' | 'logarithmic';
}

/** Fraction 0..1 of the way up at y widths above the middle; both shapes have the slope 1/4 there. */
const sigmoid = (knee: CoreLaw['knee'], y: number): number =>
  knee === 'exponential' ? 1 / (1 + Math.exp(-y)) : 0.5 * (1 + erf((Math.sqrt(Math.PI) / 4) * y));

/** The error function to 1.5e-7 (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, 7.1.26). */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const sum =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return Math.sign(x) * (1 - sum * Math.exp(-x * x));
}

/** A turn from 0 to the straight line d, of the same height at d = 0 for both shapes. */
function turn(knee: CoreLaw['knee'], d: number, width: number): number {
  if (knee === 'exponential') {
    const y = d / width;
    return y > 30 ? d : width * Math.log1p(Math.exp(y));
  }
  const s = width * Math.LN2;
  return (d + Math.sqrt(d * d + 4 * s * s)) / 2;
}

/** Peak EMF at drive F > 0, V. */
export const peakAt = (c: CoreLaw, F: number): number =>
  c.rate *
  Math.max(0, turn(c.knee, F - c.threshold, c.dynamicWidth) - turn(c.knee, -c.threshold, c.dynamicWidth));

/** dphi/dt, V, at any drive. */
export function rateAt(c: CoreLaw, drive: number, flux: number): number {
  const sign = drive < 0 ? -1 : 1;
  const F = sign * drive;
  if (F < 0.55 * c.threshold) return 0;
  const phi = sign * flux;
  const held = c.flux * (2 * sigmoid(c.knee, (F - c.coercive) / c.staticWidth) - 1);
  if (phi >= held) return 0;
  const saturation = c.flux / c.squareness;
  const u = (2 * phi + saturation - held) / (saturation + held);
  if (u <= -1) return 0;
  return sign * peakAt(c, F) * (1 - u * u) * (1 + c.skew * u);
}

/** g(F) and its slope: how the elastic part bends. */
function bend(c: CoreLaw, F: number): readonly [number, number] {
  if (c.elastic === 'hyperbolic') {
    const root = Math.hypot(F, c.bend);
    return [root - c.bend, F / root];
  }
  const y = Math.abs(F) / c.bend;
  return [c.bend * (y + Math.log1p(Math.exp(-2 * y)) - Math.LN2), Math.tanh(F / c.bend)];
}

/** Elastic flux and its slope against drive. */
export function elasticAt(c: CoreLaw, F: number, flux: number): readonly [number, number] {
  const [a, b] = [(c.elasticKnee + c.elasticSaturated) / 2, (c.elasticKnee - c.elasticSaturated) / 2];
  const p = flux / c.flux;
  const [g, slope] = bend(c, F);
  return [a * F - b * p * g, a - b * p * slope];
}
