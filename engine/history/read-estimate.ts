import { Matrix, solve } from 'ml-matrix';
import type { Design } from '../design/design.ts';
import type { CoreFlux } from '../core/flux-of-cores.ts';
import { wirePath } from '../mat/winding.ts';

/** How many numbers describe a read. */
export const FEATURES = 11;

/**
 * What the value of a read depends on, for a linear estimate: the selected core's distance from rest, and the states
 * of the half-selected cores signed by polarity relative to the selected core (bits, and how far ONEs and ZEROs have
 * been disturbed), the place on the wire, and the polarity under which the drive lines are heard.
 */
export function makeReadFeatures(
  design: Design,
): (flux: CoreFlux, row: number, column: number) => Float64Array {
  const { rows, columns } = design.mat;
  const { order, polarity } = wirePath(design);
  const place = new Float64Array(rows * columns).fill(0.5);
  order.forEach((index, position) => (place[index] = (position + 0.5) / order.length));
  const { remanentFlux } = design.core.parameters;
  return (flux, row, column) => {
    const own = row * columns + column;
    const sign = polarity[own]!;
    let count = 0;
    let bits = 0;
    let oneLoss = 0;
    let zeroLoss = 0;
    const add = (index: number): void => {
      if (index === own) return;
      const s = sign * polarity[index]!;
      const p = flux.phi[index]! / remanentFlux;
      count += s;
      bits += p > 0 ? s : -s;
      if (p > 0) oneLoss += s * (1 - p);
      else zeroLoss += s * (1 + p);
    };
    for (let c = 0; c < columns; c++) add(row * columns + c);
    for (let r = 0; r < rows; r++) add(r * columns + column);
    const state = Math.abs(flux.phi[own]! / remanentFlux);
    const at = place[own]!;
    return Float64Array.of(
      1,
      1 - state,
      (1 - state) ** 2,
      count,
      bits,
      oneLoss,
      zeroLoss,
      at,
      at * at,
      sign,
      sign * at,
    );
  };
}

/** A linear estimate fitted to some reads by least squares. */
export interface ReadEstimate {
  /** V. */
  readonly of: (features: ArrayLike<number>) => number;
  /** Does a read lie among those that the estimate was fitted to? Outside it means nothing. */
  readonly knows: (features: ArrayLike<number>) => boolean;
  /** V, greatest miss, the reads held back to test it included. */
  readonly miss: number;
}

/** Weight of the term that keeps what the reads do not determine near zero. */
const RIDGE = 1e-6;
/** Part of the span of a feature by which a read may lie outside. */
const BEYOND = 0.1;

/** Every fourth read is held back to test the estimate. With no reads it knows nothing. */
export function fitReads(
  reads: readonly { readonly features: Float64Array; readonly value: number }[],
): ReadEstimate {
  if (reads.length === 0) return { of: () => 0, knows: () => false, miss: 0 };
  const features = reads.map((read) => read.features);
  const values = reads.map((read) => read.value);
  const kept = features.flatMap((_, i) => (i % 4 === 3 ? [] : [i]));
  const column = (k: number): number[] => kept.map((i) => features[i]![k]!);
  const low = Array.from({ length: FEATURES }, (_, k) => Math.min(...column(k)));
  const high = Array.from({ length: FEATURES }, (_, k) => Math.max(...column(k)));
  const scale = low.map((l, k) => Math.max(Math.abs(l), Math.abs(high[k]!)) || 1);
  const ridge = scale.map((_, k) => scale.map((__, j) => (j === k ? RIDGE : 0)));
  const a = new Matrix([...kept.map((i) => scale.map((s, k) => features[i]![k]! / s)), ...ridge]);
  const b = Matrix.columnVector([...kept.map((i) => values[i]!), ...scale.map(() => 0)]);
  const weights = solve(a, b).to1DArray();
  const of = (f: ArrayLike<number>): number =>
    weights.reduce((sum, w, k) => sum + (w * f[k]!) / scale[k]!, 0);
  const slack = low.map((l, k) => BEYOND * (high[k]! - l) + 1e-12);
  return {
    of,
    knows: (f) => low.every((l, k) => f[k]! >= l - slack[k]! && f[k]! <= high[k]! + slack[k]!),
    miss: features.reduce((most, f, i) => Math.max(most, Math.abs(of(f) - values[i]!)), 0),
  };
}
