import type { Difference } from './difference.ts';
import { roleSum } from './section-sums.ts';
import type { WireState } from './wire-state.ts';

/**
 * Flux closure of every section over the observed cycle: what its EMF sums up to must be the change of its linkage,
 *
 *     integral of (v_k - v_(k+1) - R_k j_k) dt = change of (L_k lag_k + air + cores),      both in Wb
 *
 * by trapezoids on the left and by the states themselves on the right.
 */
export interface FluxClosure {
  begin(): void;
  /** Adds one step that has been solved, before its end becomes now. */
  add(d: Difference): void;
  /** Looks at the linkages after that. */
  see(): void;
  /** Greatest difference of a section over the greatest swing of a linkage. */
  result(): number;
}

export function makeFluxClosure(wire: WireState): FluxClosure {
  const { sections } = wire;
  const n = sections.count;
  const start = new Float64Array(n);
  const area = new Float64Array(n);
  const swing = new Float64Array(n);
  const emf = new Float64Array(n);
  const emfOf = (k: number, j: Float64Array, v: Float64Array): number =>
    v[k]! - v[k + 1]! - sections.resistance[k]! * j[k]!;
  const linkage = (k: number): number =>
    sections.inductance[k]! * wire.lag[k]! + wire.air[k]! + roleSum(wire.flux, wire.stride, k);

  return {
    begin() {
      for (let k = 0; k < n; k++) {
        start[k] = linkage(k);
        emf[k] = emfOf(k, wire.j, wire.v);
      }
    },
    add(d) {
      for (let k = 0; k < n; k++) {
        const e = emfOf(k, wire.jNext, wire.vNext);
        // After a kink the EMF starts from a value of its own, not from the one before.
        area[k]! += d.w === 0 ? d.h * e : (d.h * (emf[k]! + e)) / 2;
        emf[k] = e;
      }
    },
    see() {
      for (let k = 0; k < n; k++) {
        const moved = Math.abs(linkage(k) - start[k]!);
        if (moved > swing[k]!) swing[k] = moved;
      }
    },
    result() {
      const most = swing.reduce((a, b) => Math.max(a, b), 0);
      if (most === 0) return 0;
      let closure = 0;
      for (let k = 0; k < n; k++)
        closure = Math.max(closure, Math.abs(area[k]! - (linkage(k) - start[k]!)) / most);
      return closure;
    },
  };
}
