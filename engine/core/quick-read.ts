import {
  decayFlux,
  decaySwing,
  elasticPerFlux,
  peakEmf,
  ringFactors,
  saturationFlux,
  staticFlux,
  switchFlux,
} from './model.ts';
import { moveRings, type CoreState } from './state.ts';
import { readEmf, type EmfReading } from './step-answer.ts';
import type { CoreParameters } from '../design/core.ts';

/** Pieces of the rise before and after the softest ring begins to switch; readings are right to 2e-3 (second order). */
const [BEFORE, AFTER] = [6, 80];

/**
 * What a bench reads off the answer of one core to a full drive with a linear rise and a long flat top; times from the
 * start of the rise. The rise is stepped, the flat top in closed form: each ring goes on along its bell from where the
 * rise left it, so that a read costs a tenth of a stepped one. For searches that read thousands of cores.
 * @param state of a core that is driven in the write direction (mirror it to read a ONE)
 */
export function quickRead(p: CoreParameters, state: CoreState, drive: number, rise: number): EmfReading {
  const begins = Math.min(p.coerciveDrive - 4 * p.staticKneeWidth, p.dynamicThreshold) * (1 - p.ringSpread);
  const from = Math.min(1, Math.max(0, begins / drive));
  const phiS = saturationFlux(p);
  const ring = (phi: number, local: number, h: number): number => {
    const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, local);
    if (phi >= phiD) return phi;
    const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, local);
    return switchFlux(phi, phiS, phiD, vP, h);
  };
  const main = moveRings(p, state, (start, f) =>
    eachPiece(from, rise, start, (phi, part, h) => ring(phi, (drive * part) / f, h)),
  );
  const psi = eachPiece(from, rise, state.psi, (at, part, h) => decayFlux(p, drive * part, at, h));
  const top: CoreState = { ...main, psi };
  const bells = ringFactors(p).flatMap((f, k) => {
    const phi = top.rings?.[k] ?? top.phi;
    const phiD = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, drive / f);
    if (phi >= phiD) return [];
    const vP = peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, drive / f);
    const span = phiS + phiD;
    const rate = (2 * vP) / span;
    return [{ vP, rate, peakAt: -Math.atanh((2 * phi + phiS - phiD) / span) / rate }];
  });
  const rings = ringFactors(p).length;
  const kept = 1 + elasticPerFlux(p, drive);
  const excess = Math.max(0, drive - p.decayThreshold);
  const fade = excess / p.decayCharge;
  const decaying = (decaySwing(p) / 2 - top.psi) * fade;
  const emf = (t: number): number => {
    let sum = 0;
    for (const { vP, rate, peakAt } of bells) sum += vP / Math.cosh(rate * (t - peakAt)) ** 2;
    return (kept * sum) / rings + (decaying === 0 ? 0 : decaying * Math.exp(-fade * t));
  };
  const last = Math.max(0, ...bells.map((bell) => bell.peakAt));
  const slowest = Math.min(Infinity, ...bells.map((bell) => bell.rate));
  const reach = 8 / slowest;
  const { peak, peakTime, switchingTime } = readEmf(emf, 0, last, Number.isFinite(reach) ? reach : rise);
  return { peak, peakTime: peakTime + rise, switchingTime: switchingTime + rise };
}

/** Carries a value through the pieces of a rise (s); `part` of it is reached in the middle of each piece. */
function eachPiece(
  from: number,
  rise: number,
  start: number,
  move: (value: number, part: number, h: number) => number,
): number {
  let value = start;
  for (let k = 0; k < BEFORE; k++) value = move(value, (from * (k + 0.5)) / BEFORE, (rise * from) / BEFORE);
  for (let k = 0; k < AFTER; k++)
    value = move(value, from + ((1 - from) * (k + 0.5)) / AFTER, (rise * (1 - from)) / AFTER);
  return value;
}
