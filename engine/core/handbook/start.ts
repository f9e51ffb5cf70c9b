import { invertBell } from '../closed-forms.ts';
import { DISTURB_RATIOS, type CoreHandbook } from './values.ts';
import { elasticPerFlux, peakEmf } from '../model.ts';
import { UNKNOWN_MATERIAL } from '../../design/core-ranges.ts';
import type { CoreParameters } from '../../design/core.ts';

/** Static knee width over full drive; common practice, no source: a sharp knee for a memory core. */
const KNEE = 0.02;
/** Knee widths between the disturb current and F_c: the train then moves under 4 % of phi_r (1 - tanh 2). */
export const KNEES_CLEAR = 4;
/** F_0 over full drive where no second drive was read: the middle of what such cores have (design/core-ranges.ts). */
const THRESHOLD = 0.55;
/** Elastic bend over full drive; common practice, no source. */
const BEND = 0.1;
/** eps_knee over eps_sat when only one edge output is known; common practice, no source. */
const ELASTIC_RATIO = 1.2;
/** Elastic flux at full drive over the whole swing 2 phi_r when no edge output is known; common practice, no source. */
const ELASTIC_SHARE = 0.1;

/** What the closed forms are asked for, moved pass by pass until the simulated core answers what was wanted. */
export interface Aim {
  peak: number;
  peakTime: number;
  switchTime: number;
  /** V on the edge: half-selected ONE and ZERO, or a full-drive ZERO in `zero` alone. */
  one: number;
  zero: number;
}

/** Thresholds and knees of a core. */
export type Drives = Pick<
  CoreParameters,
  'coerciveDrive' | 'staticKneeWidth' | 'dynamicThreshold' | 'dynamicKneeWidth' | 'elasticBend'
>;

/** Thresholds and knees: measured, or set so that the disturb current stays clear of the static knee. */
export function drivesOf(h: CoreHandbook): Drives {
  const ratio = h.disturbRatio ?? DISTURB_RATIOS.coincidentCurrent;
  const knee = KNEE * h.fullDrive;
  const coerciveDrive = h.coerciveDrive ?? ratio * h.fullDrive + KNEES_CLEAR * knee;
  const dynamicThreshold = h.dynamicThreshold ?? THRESHOLD * h.fullDrive;
  return {
    coerciveDrive,
    // F_c >= 6 w and F_0 >= 10 s keep the rates continuous at F = 0.
    staticKneeWidth: Math.min(knee, coerciveDrive / 6),
    dynamicThreshold,
    dynamicKneeWidth: Math.min(knee, dynamicThreshold / 10),
    elasticBend: BEND * h.fullDrive,
  };
}

/** eps_knee and eps_sat, H, from the aim's edge outputs; from the flux swing when there are none. */
function elasticFor(h: CoreHandbook, bend: number, aim: Aim, phiR: number): { knee: number; sat: number } {
  if (h.halfSelectOne !== undefined) {
    const F = h.fullDrive / 2;
    const perSlope = h.rise / F;
    const mean = ((aim.one + aim.zero) / 2) * perSlope;
    const half = (((aim.one - aim.zero) / 2) * perSlope * Math.hypot(F, bend)) / F;
    return { knee: mean + half, sat: mean - half };
  }
  if (h.disturbedZero !== undefined) {
    const F = h.fullDrive;
    const bent = F / Math.hypot(F, bend);
    const slope = (aim.zero * h.rise) / F;
    // slope = a - b bent with a = sat (ratio + 1)/2 and b = sat (ratio - 1)/2.
    const sat = (2 * slope) / (ELASTIC_RATIO + 1 - (ELASTIC_RATIO - 1) * bent);
    return { knee: ELASTIC_RATIO * sat, sat };
  }
  const sat = (ELASTIC_SHARE * 2 * phiR) / h.fullDrive;
  return { knee: ELASTIC_RATIO * sat, sat };
}

/** The core whose closed forms hit the aim. The peak of the EMF is v_p (1 - b g/phi_r), so v_p is found with it. */
export function parametersFor(h: CoreHandbook, drives: Drives, aim: Aim): CoreParameters {
  const { fullDrive } = h;
  const rest = 2 / (1 + Math.exp((drives.coerciveDrive - fullDrive) / drives.staticKneeWidth)) - 1;
  const make = (vP: number): CoreParameters => {
    const bell = invertBell(vP, aim.peakTime, aim.switchTime, rest);
    const { knee, sat } = elasticFor(h, drives.elasticBend, aim, bell.phiR);
    const unit = peakEmf(1, drives.dynamicThreshold, drives.dynamicKneeWidth, fullDrive);
    return {
      ...drives,
      remanentFlux: bell.phiR,
      squareness: bell.phiR / bell.phiS,
      switchingResistance: vP / unit,
      ringSpread: h.ringSpread ?? 0,
      elasticKnee: knee,
      elasticSaturated: sat,
      decayResistance: 0,
      decayCharge: 1e-8,
      decayThreshold: drives.dynamicThreshold,
      driveTemperatureCoefficient: h.driveTemperatureCoefficient ?? UNKNOWN_MATERIAL.drive,
      fluxTemperatureCoefficient: h.fluxTemperatureCoefficient ?? UNKNOWN_MATERIAL.flux,
      outsideDiameter: h.outsideDiameter,
      insideDiameter: h.insideDiameter,
      height: h.height,
    };
  };
  // phi_r is proportional to v_p, so with b fixed in H the share b g/phi_r is (share at v_p = peak) * peak/v_p:
  // v_p (1 - share peak/v_p) = peak gives v_p = peak (1 + share). With b proportional to phi_r the share is fixed.
  const share = -elasticPerFlux(make(aim.peak), fullDrive);
  const fixed = h.halfSelectOne === undefined && h.disturbedZero === undefined;
  return make(fixed ? aim.peak / (1 - share) : aim.peak * (1 + share));
}
