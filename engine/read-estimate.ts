import { Matrix, solve } from 'ml-matrix';
import type { Design } from './design.ts';
import type { CoreFlux } from './result.ts';
import { wirePath } from './winding.ts';

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

/** A linear estimate fitted to some reads by least squares, and by how much it misses those. */
export interface ReadEstimate {
  readonly of: (features: ArrayLike<number>) => number;
  /** V, greatest miss among the reads it was fitted to. */
  readonly miss: number;
}

/** @param features one array a read; @param values V, as many */
export function fitReads(features: readonly Float64Array[], values: readonly number[]): ReadEstimate {
  const a = new Matrix(features.map((f) => Array.from(f)));
  const weights = solve(a, Matrix.columnVector(Array.from(values)), true).to1DArray();
  const of = (f: ArrayLike<number>): number => weights.reduce((sum, w, i) => sum + w * f[i]!, 0);
  const miss = Math.max(0, ...features.map((f, i) => Math.abs(of(f) - values[i]!)));
  return { of, miss };
}
