import { bellSpan, peakTime, type Bell } from '../core/closed-forms.ts';
import { atTemperature, elasticPerFlux, peakEmf, saturationFlux, staticFlux } from '../core/model.ts';
import type { CoreParameters, Design } from '../design/design.ts';
import { warmCurrents } from '../drive/at-temperature.ts';

/** Long half-selecting may cost a core this part of its flux swing; beyond is over the knee. */
const KNEE_LOSS = 0.1;

/**
 * Ampere-turns at which endless half-selecting costs a core a tenth of its swing, A: the static curve
 * phi_d(F) = phi_r (2/(1 + exp((F_c - F)/w)) - 1) solved for (phi_d + phi_r)/(2 phi_r) = 0.1 (derived).
 */
export function kneeDrive(p: CoreParameters): number {
  return p.coerciveDrive - p.staticKneeWidth * Math.log(1 / KNEE_LOSS - 1);
}

/** The bell of a core switched by a step of `drive` from rest, or undefined where the drive does not switch it. */
export function bellAt(p: CoreParameters, drive: number): Bell | undefined {
  const phiR = p.remanentFlux;
  const bell = {
    phiR,
    phiS: saturationFlux(p),
    phiD: staticFlux(phiR, p.coerciveDrive, p.staticKneeWidth, drive),
    vP: peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, drive),
  };
  const switches = drive > p.dynamicThreshold && bell.phiD > 0 && bellSpan(bell) > 0;
  return switches && peakTime(bell) > 0 ? bell : undefined;
}

/** Peak EMF of a ONE under full read, V: v_p less what the elastic part takes (a few per cent). */
export function predictedOne(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const { fullRead } = warmCurrents(design);
  const bell = bellAt(p, fullRead);
  return bell ? bell.vP * (1 + elasticPerFlux(p, fullRead)) : 0;
}
