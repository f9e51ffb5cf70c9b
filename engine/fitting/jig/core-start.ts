import { usualRanges } from '../../design/core-ranges.ts';
import type { CoreChoice, CoreParameters, CoreTest } from '../../design/core.ts';
import { FitError } from '../bench-runs.ts';
import { riseOf, topOf } from './core-test.ts';
import type { CoreCapture } from './trace-model.ts';

/** F_0 over the top of the drive: where such cores have it, and what is tried. */
export const TRIED_THRESHOLDS = [0.45, 0.6, 0.72] as const;

/**
 * A core to start from where nothing is said of one: flux by the area of the greatest bell, speed by its peak, all else
 * as such cores have it over their drive, with the ranges of such a core. Throws FitError where no capture shows a bell.
 */
export function startFrom(captures: readonly CoreCapture[], like: CoreChoice, threshold: number): CoreChoice {
  const bells = captures.filter(({ train }) => train === undefined).map(bellOf);
  const [bell] = bells.sort((a, b) => b.peak - a.peak);
  if (bell === undefined || !(bell.area > 0))
    throw new FitError(
      '/captures',
      'One capture must show an undisturbed core as it switches, and none does: add a full read of a ONE, or say under "core" where to start.',
    );
  const { top, peak, area, rise, width } = bell;
  const F0 = threshold * top;
  const rho = peak / (top - F0);
  const phiR = area / 2;
  const swing = (2 * phiR) / top;
  const parameters: CoreParameters = {
    ...like.parameters,
    remanentFlux: phiR,
    squareness: 0.93,
    coerciveDrive: 0.6 * top,
    staticKneeWidth: 0.02 * top,
    dynamicThreshold: F0,
    dynamicKneeWidth: 0.02 * top,
    switchingResistance: rho,
    ringSpread: 0.1,
    elasticSaturated: 0.04 * swing,
    elasticKnee: 0.07 * swing,
    elasticBend: 0.2 * top,
    decayThreshold: 0.7 * top,
    // As slow as the core itself, and a twentieth of its peak.
    decayResistance: (0.05 * peak) / (0.3 * top),
    decayCharge: 0.3 * top * width,
  };
  const test: CoreTest = {
    fullDrive: top,
    rise,
    tolerance: 0.1,
    disturbRatio: 0.5,
    disturbs: 1024,
    disturbWidth: 3 * width,
  };
  const usual = usualRanges(parameters, test, 'assumed', 'unknown');
  const wide = { low: 0.6 * phiR, high: 1.4 * phiR, from: 'assumed' } as const;
  return { ...like, parameters, test, range: { ...usual, remanentFlux: wide } };
}

/** The bell of the first top: V, Wb, s at half its height. */
function bellOf(capture: CoreCapture) {
  const { drive, sense, spans } = capture;
  const [from, to] = spans[0]!;
  const inside = Array.from(sense.keys()).filter((k) => {
    const t = drive.start + (k + 0.5) * drive.step;
    return t >= from && t < to;
  });
  const peak = inside.reduce((most, k) => Math.max(most, Math.abs(sense[k]!)), 0);
  const area = Math.abs(inside.reduce((sum, k) => sum + sense[k]! * drive.step, 0));
  const above = inside.filter((k) => Math.abs(sense[k]!) > peak / 2).length;
  const top = topOf(capture);
  return { peak, area, width: above * drive.step, top, rise: riseOf(capture, top) };
}
