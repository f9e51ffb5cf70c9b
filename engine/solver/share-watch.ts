import type { CoreClasses } from '../network/core-classes.ts';
import type { CoreState, DriveFactors } from './core-state.ts';
import { PLACES } from '../network/core-places.ts';
import type { Sections } from '../network/sections.ts';
import type { CoreShares } from './result.ts';
import { roleSum, type LineCurrents } from './section-sums.ts';
import type { WireState } from './wire-state.ts';

export interface ShareWatchOptions {
  /** s */
  readonly instants: readonly number[];
  readonly classes: CoreClasses;
  readonly sections: Sections;
  readonly factors: DriveFactors;
  readonly state: CoreState;
  readonly wire: WireState;
}

/** Looks on while a run is recorded and takes what each core induces in the steps that hold the given instants. */
export interface ShareWatch {
  /** After every step; `lag`: line currents as the elastic flux sees them. */
  see(time: number, lag: LineCurrents): void;
  /** In the order of the instants. */
  result(): readonly CoreShares[];
}

/**
 * A core's EMF over a step is the change of its linkage, s_z (phi + psi + phi_el), over the step's length; in
 * u = v_B - v_A it counts with a minus sign, since the wire runs from A to B. A core is up to
 * three parts, each at its own section's current.
 */
export function makeShareWatch(options: ShareWatchOptions): ShareWatch {
  const { instants, classes, sections, factors, state, wire } = options;
  const order = instants.map((time, index) => ({ time, index })).sort((a, b) => a.time - b.time);
  const found: CoreShares[] = [];
  let linkage = new Float64Array(classes.size);
  let before = new Float64Array(classes.size);
  let sum = 0;
  let sumBefore = 0;
  let last = NaN;
  let step = NaN;
  let next = 0;

  function takeLinkages(lag: LineCurrents): void {
    for (let c = 0; c < classes.size; c++) {
      const k = classes.section[c]!;
      const s = classes.polarity[c]!;
      linkage[c] = 0;
      if (classes.otherMat[c] === 1 || k >= sections.count) continue;
      const F =
        factors.x[c]! * lag.x +
        factors.y[c]! * lag.y +
        factors.inhibit[c]! * lag.inhibit +
        s * wire.lag[k]! +
        classes.bias[c]!;
      const phi = state.phi[c]!;
      const bent = Math.hypot(F, classes.bend[c]!) - classes.bend[c]!;
      linkage[c] = s * (phi + state.psi[c]! + classes.elasticA[c]! * F - classes.elasticB[c]! * phi * bent);
    }
    sum = 0;
    for (let k = 0; k < sections.count; k++) sum += roleSum(wire.flux, wire.stride, k);
  }

  function sharesOf(time: number): CoreShares {
    const part = (c: number): number => (c < 0 ? 0 : (before[c]! - linkage[c]!) / step);
    // Where every core differs, each counts whole in one section.
    const whole = (core: number): boolean =>
      classes.ofPart.subarray(core * PLACES + 1, (core + 1) * PLACES).every((c) => c < 0);
    const emf = new Float64Array(classes.ofPart.length / PLACES);
    classes.ofPart.forEach((c, at) => {
      const core = Math.floor(at / PLACES);
      emf[core]! += (whole(core) ? Number(at % PLACES === 0) : sections.shares[at]!) * part(c);
    });
    return { time, emf, total: (sumBefore - sum) / step };
  }

  return {
    see(time, lag) {
      if (next >= order.length) return;
      [before, linkage] = [linkage, before];
      sumBefore = sum;
      takeLinkages(lag);
      step = time - last;
      last = time;
      if (Number.isNaN(step)) return;
      for (; next < order.length && order[next]!.time <= time; next++)
        found[order[next]!.index] = sharesOf(Math.max(order[next]!.time, 0));
    },
    result() {
      // Instants past the end are told of the last step.
      for (; next < order.length; next++) found[order[next]!.index] = sharesOf(last);
      return found;
    },
  };
}
