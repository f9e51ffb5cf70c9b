import { HALF_SELECTED, SELECTED, UNSELECTED } from '../../network/core-classes.ts';
import { roleSum } from '../section-sums.ts';
import { CORE, DIRECT, INHIBIT, IRREVERSIBLE, PARTS, REVERSIBLE } from '../split-state.ts';
import type { StepContext } from '../step-context.ts';
import type { LongWire } from './long-wire.ts';
import { rotate, type MeanHistory, type SlopeWeights } from './means.ts';

/** What every section's cores and the lines' air coupling induce in a core step of `length`, s, besides L: mean and slope. */
export function setEmfs(long: LongWire, step: StepContext, length: number, weights: SlopeWeights): void {
  const { wire, sums, lagRate } = step;
  const { stride, flux, lag, lagGuess } = wire;
  const { airX, airY, airInhibit } = step.cycle.coupling;
  rotate(long.emf);
  const { mean } = long.emf;
  for (let k = 0; k < wire.sections.count; k++) {
    const moved = roleSum(sums.flux, stride, k) - roleSum(flux, stride, k);
    const answered = roleSum(long.own.mean, stride, k) * (lagGuess[k]! - lag[k]!);
    const air = airX[k]! * lagRate.x + airY[k]! * lagRate.y + airInhibit[k]! * lagRate.inhibit;
    mean[k] = (moved - answered) / length + air;
  }
  setSlopes(long.emf, weights);
}

function setSlopes({ mean, past, older, slope }: MeanHistory, weights: SlopeWeights): void {
  const { now, past: before, older: first } = weights;
  for (let i = 0; i < mean.length; i++) slope[i] = now * mean[i]! + before * past[i]! + first * older[i]!;
}

/** The same by cause: they sum to it. @param weights undefined: the core step is one step of the wire, slopes are not asked for */
export function setShares(
  long: LongWire,
  step: StepContext,
  length: number,
  weights: SlopeWeights | undefined,
): void {
  const { wire, sums, lagRate } = step;
  const { sections, stride, flux, lag, lagGuess } = wire;
  const { airX, airY, airInhibit } = step.cycle.coupling;
  const fluxNext = sums.flux;
  const own = long.own.mean;
  const x = long.x.mean;
  const y = long.y.mean;
  const inhibit = long.inhibit.mean;
  rotate(long.shares);
  const { mean } = long.shares;
  for (let k = 0, at = 0; k < sections.count; k++, at += PARTS) {
    const sel = SELECTED * stride + k;
    const half = HALF_SELECTED * stride + k;
    const rest = UNSELECTED * stride + k;
    const change = lagGuess[k]! - lag[k]!;
    const emfSelected = (fluxNext[sel]! - flux[sel]! - own[sel]! * change) / length;
    const emfHalf = (fluxNext[half]! - flux[half]! - own[half]! * change) / length;
    const emfRest = (fluxNext[rest]! - flux[rest]! - own[rest]! * change) / length;
    const inhibitedHalf = inhibit[half]! * lagRate.inhibit;
    const inhibitedSelected = inhibit[sel]! * lagRate.inhibit;
    const reversible = x[k]! * lagRate.x + y[k]! * lagRate.y;
    mean[at + DIRECT] = airX[k]! * lagRate.x + airY[k]! * lagRate.y;
    mean[at + REVERSIBLE] = reversible;
    mean[at + IRREVERSIBLE] = emfHalf - reversible - inhibitedHalf;
    mean[at + CORE] = emfSelected - inhibitedSelected;
    mean[at + INHIBIT] = emfRest + inhibitedHalf + inhibitedSelected + airInhibit[k]! * lagRate.inhibit;
  }
  if (weights) setSlopes(long.shares, weights);
}

/** A that enters the nodes through the coupling capacitance while the lines' voltages change at these rates, V/s. */
export function setCharge(long: LongWire, step: StepContext, rateX: number, rateY: number): void {
  const { chargeX, chargeY } = step.cycle.coupling;
  for (let k = 0; k < chargeX.length; k++) long.charge[k] = chargeX[k]! * rateX + chargeY[k]! * rateY;
}
