import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { isShared } from '../mat/winding.ts';
import { wireImpedance } from '../network/sections.ts';

/**
 * Time constants that an exponential takes from one level to another: ln(from/to).
 * recoveryTimeConstants(0.34, 0.005) is 4.22 (derived).
 */
export function recoveryTimeConstants(from: number, to: number): number {
  return to >= from ? 0 : Math.log(from / to);
}

/** What is left of the inhibit current in the sense wire, by estimate from inductance and resistors. */
export interface RecoveryEstimate {
  /** V at the amplifier just after turn-off. */
  readonly start: number;
  /** V that the tail must fall under: `fraction` of the threshold. */
  readonly target: number;
  /** s, inductance of the wire over the resistance that damps it. */
  readonly timeConstant: number;
  /** s from the end of the inhibit edge until the tail is under the target, amplifier included. */
  readonly time: number;
}

/** The tail may still hold this part of the threshold at the next read. */
export const TAIL_FRACTION = 0.05;

/**
 * Tail of a shared wire after inhibit: its current I dies through both terminations (in parallel with the
 * amplifier's inputs) with L/R, from I times their sum, or from the clamp's voltage after a stretch L I/(2 V) in
 * which the clamps held it; then the amplifier's poles and its overload recovery. Ends above the wire's impedance
 * let it ring instead: a round trip 2T loses 4 Z0/R, which makes the time constant R C/2 = L R/(2 Z0^2). A separate
 * sense wire carries no inhibit, so that only the amplifier has to recover from what the edges induced.
 */
export function estimateRecovery(design: Design, fraction = TAIL_FRACTION): RecoveryEstimate {
  const { mat, winding, wire, terminations, drive, amplifier, detector, core } = design;
  const target = fraction * detector.threshold;
  const shared = isShared(winding);
  const cores = (mat.rows * mat.columns) / (winding.kind === 'shared-two-halves' ? 2 : winding.segments);
  const elastic = (core.parameters.elasticKnee + core.parameters.elasticSaturated) / 2;
  const inductance = cores * (wire.inductancePerCore + elastic);
  const ends = [terminations.a, terminations.b].map(
    (r) => 1 / (1 / Math.max(r, 1e-3) + 1 / amplifier.inputResistance),
  );
  const damping = ends[0] + ends[1];
  const resistance = damping + cores * wire.resistancePerCore;
  const series = (cores * wire.resistancePerCore) / 2;
  const ringing = (2 * wireImpedance(design) ** 2) / Math.max(...ends) + series;
  const line = inductance / Math.min(resistance, ringing);
  const current = shared ? driveLevels(design).inhibit : 0;
  const clamp = drive.inhibit.clamp;
  const free = current * damping;
  const start = Math.min(free, clamp);
  const held = Number.isFinite(clamp) && free > clamp ? (inductance * current) / (2 * clamp) : 0;
  const poles = 1 / (2 * Math.PI * amplifier.bandwidth) + 1 / (2 * Math.PI * amplifier.secondPole);
  const heard = Math.min(Math.max(start, shared ? 0 : detector.threshold), amplifier.inputClamp);
  const tail = line * recoveryTimeConstants(start, target) + poles * recoveryTimeConstants(heard, target);
  return { start, target, timeConstant: line, time: held + tail + amplifier.recovery };
}
