import { roleSum } from './section-sums.ts';
import type { WireState } from './wire-state.ts';

/**
 * Flux closure of every section over the observed cycle: what its EMF sums up to must be the change of its linkage,
 *
 *     integral of (v_k - v_(k+1) - R_k j_k) dt = change of (L_k lag_k + air + cores),      both in Wb
 *
 * by trapezoids on the left and by the states themselves on the right. Arrays have an entry a section.
 */
export interface FluxClosure {
  /** Linkage at the start of the cycle, and now of the cores alone, Wb. */
  readonly start: Float64Array;
  readonly cores: Float64Array;
  /** Integral of the EMF, Wb, and the EMF now, V. */
  readonly area: Float64Array;
  readonly emf: Float64Array;
  /** Greatest distance of the linkage from its start, Wb. */
  readonly swing: Float64Array;
}

export function makeFluxClosure(sections: number): FluxClosure {
  const make = (): Float64Array => new Float64Array(sections);
  return { start: make(), cores: make(), area: make(), emf: make(), swing: make() };
}

/** The start of the cycle. */
export function beginClosure(closure: FluxClosure, wire: WireState): void {
  const { sections, j, v } = wire;
  for (let k = 0; k < sections.count; k++) {
    closure.start[k] = linkage(wire, k);
    closure.cores[k] = roleSum(wire.flux, wire.stride, k);
    closure.emf[k] = v[k]! - v[k + 1]! - sections.resistance[k]! * j[k]!;
  }
}

const linkage = (wire: WireState, k: number): number =>
  wire.sections.inductance[k]! * wire.lag[k]! + wire.air[k]! + roleSum(wire.flux, wire.stride, k);

/** Greatest difference of a section over the greatest swing of a linkage, once the wire has come to its end. */
export function closureLeft({ start, area, swing }: FluxClosure, wire: WireState): number {
  const most = swing.reduce((a, b) => Math.max(a, b), 0);
  if (most === 0) return 0;
  let left = 0;
  for (let k = 0; k < area.length; k++)
    left = Math.max(left, Math.abs(area[k]! - (linkage(wire, k) - start[k]!)) / most);
  return left;
}
