import { disturb } from '../core/disturb.ts';
import { restState } from '../core/state.ts';
import type { CoreParameters } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { inhibitWire, throughWire } from '../drive/inhibit-wire.ts';
import { normalQuantile } from '../numerics/statistics.ts';
import { designEnd } from './constraints/ends.ts';

/** The softest core that a stack of parts as they come is likely to hold, after long trains at the warm end. */
export interface SoftestCore {
  /** Standard deviations that its thresholds lie below the middle. */
  readonly sigmas: number;
  /** Part of its flux that is kept: 1 all, 0 none, negative: turned over. */
  readonly one: number;
  readonly zero: number;
  /** Least part that counts as kept. */
  readonly least: number;
  readonly holds: boolean;
}

/** A core that keeps so much of its flux is still read as what it holds (our own choice; no source). */
const LEAST_KEPT = 0.8;
/** Pulses of a train that stands for one without end: what a core loses to them has settled or goes on for ever. */
const LONG = 1000;

/**
 * Good draws alone do not see what goes on without end: one core of thousands that creeps a little at each half-select.
 * The softest of all cores of the stack (so far below the middle that a share `requirement.yield` of stacks holds none
 * softer, thresholds normally distributed) must keep a ONE through a thousand half-reads and a ZERO through a thousand
 * inhibited writes (X and Y less the part of the inhibit that goes through the wire), at the warm end with drives and
 * supply high. Pulses are rectangular, of the width between half-amplitude points.
 */
export function softestCore(design: Design): SoftestCore {
  const { mat, requirement, tolerances, cycle } = design;
  const bits = mat.rows * mat.columns * mat.mats;
  const sigmas = normalQuantile(1 - (1 - requirement.yield) / bits);
  const share = throughWire(inhibitWire(design));
  const kept = ([1, -1] as const).map((warm) => {
    const { core, currents } = designEnd(design, warm, 1);
    const soft = soften(core, Math.max(0.05, 1 - sigmas * tolerances.coreThreshold));
    const after = (bit: 0 | 1, drive: number, width: number): number => {
      const train = {
        halfDrive: Math.max(0, drive),
        width,
        pulses: LONG,
        cycle: [bit === 1 ? -1 : 1] as const,
      };
      return ((bit === 1 ? 1 : -1) * disturb(soft, restState(soft, bit), train).phi) / soft.remanentFlux;
    };
    return {
      one: after(1, currents.halfRead, cycle.readWidth),
      zero: after(0, currents.fullWrite - share * currents.inhibit, cycle.writeWidth),
    };
  });
  const one = Math.min(...kept.map((end) => end.one));
  const zero = Math.min(...kept.map((end) => end.zero));
  return { sigmas, one, zero, least: LEAST_KEPT, holds: one >= LEAST_KEPT && zero >= LEAST_KEPT };
}

/** Every threshold by the same factor. */
const soften = (p: CoreParameters, factor: number): CoreParameters => ({
  ...p,
  coerciveDrive: p.coerciveDrive * factor,
  dynamicThreshold: p.dynamicThreshold * factor,
  decayThreshold: p.decayThreshold * factor,
});
