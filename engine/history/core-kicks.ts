import { kicksBy, type KickTrain } from '../core/kicks.ts';
import { atTemperature } from '../core/model.ts';
import type { CoreParameters, CoreException } from '../design/core.ts';
import type { Design } from '../design/design.ts';

/** Ampere-turns against time between slope jumps; `jumps` sorted, s. */
export interface DriveOverTime {
  readonly jumps: ArrayLike<number>;
  readonly at: (t: number) => number;
}

/** Pieces of a span over which the drive moves; one is exact where it stands still. */
const PIECES = 24;
/** s: no piece of a moving drive is longer. */
const LONGEST_PIECE = 10e-9;
/** Relative flux below which a kick is left out. */
const NEGLIGIBLE = 1e-11;

/**
 * A drive as kicks: between slope jumps in pieces at the drive of their middle (second order in the piece, exact
 * where the drive stands still), because with a prescribed drive everything but the core's own state is known
 * beforehand.
 */
export function kicksOf(p: CoreParameters, drive: DriveOverTime): KickTrain {
  const spans: { drive: number; length: number }[] = [];
  for (let i = 0; i + 1 < drive.jumps.length; i++) {
    const from = drive.jumps[i]!;
    const length = drive.jumps[i + 1]! - from;
    const probes = [0.001, 0.25, 0.5, 0.75, 0.999].map((x) => drive.at(from + x * length));
    const level = probes[2]!;
    const still = probes.every((F) => Math.abs(F - level) <= 1e-9 * Math.abs(level) + 1e-12);
    const pieces = still ? 1 : Math.max(PIECES, Math.ceil(length / LONGEST_PIECE));
    for (let k = 0; k < pieces; k++)
      spans.push({ drive: drive.at(from + ((k + 0.5) * length) / pieces), length: length / pieces });
  }
  return kicksBy(p, spans, NEGLIGIBLE);
}

/** Parameters of the design's core at its temperature, with an exception's factors. */
export function parametersOf(design: Design, exception?: CoreException): CoreParameters {
  const p = atTemperature(design.core.parameters, design.temperature);
  if (exception === undefined) return p;
  const { fluxFactor, thresholdFactor } = exception;
  return {
    ...p,
    remanentFlux: p.remanentFlux * fluxFactor,
    switchingResistance: p.switchingResistance * fluxFactor,
    decayResistance: p.decayResistance * fluxFactor,
    coerciveDrive: p.coerciveDrive * thresholdFactor,
    dynamicThreshold: p.dynamicThreshold * thresholdFactor,
    decayThreshold: p.decayThreshold * thresholdFactor,
  };
}
