import { atTemperature, elasticPerFlux, restingFlux } from '../core/model.ts';
import { stepAnswerAt } from '../core/step-answer.ts';
import type { CoreParameters } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { warmCurrents } from '../drive/at-temperature.ts';

/** Long half-selecting may cost a core this part of its flux swing; beyond is over the knee. */
const KNEE_LOSS = 0.1;

/**
 * Ampere-turns at which endless half-selecting costs a core a tenth of its swing, A: the static curve
 * phi_d(F) = phi_r (2/(1 + exp((F_c - F)/w)) - 1) solved for (phi_d + phi_r)/(2 phi_r) = 0.1 (derived). Of a core of
 * rings the mean of their curves, between the knees of the innermost and the outermost.
 */
export function kneeDrive(p: CoreParameters): number {
  const ofRing = p.coerciveDrive - p.staticKneeWidth * Math.log(1 / KNEE_LOSS - 1);
  if (p.ringSpread === 0) return ofRing;
  let [low, high] = [ofRing * (1 - p.ringSpread), ofRing * (1 + p.ringSpread)];
  for (let i = 0; i < 60; i++) {
    const F = (low + high) / 2;
    if (restingFlux(p, F) < (2 * KNEE_LOSS - 1) * p.remanentFlux) low = F;
    else high = F;
  }
  return (low + high) / 2;
}

/** Peak EMF of a ONE under full read, V: that of the step less what the elastic part takes (a few per cent). */
export function predictedOne(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const { fullRead } = warmCurrents(design);
  const answer = stepAnswerAt(p, fullRead);
  return answer ? answer.peak * (1 + elasticPerFlux(p, fullRead)) : 0;
}
