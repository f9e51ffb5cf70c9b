import { readFlat } from './answers.ts';
import { hasDisturb, USUAL_DISTURBS } from './more-readings.ts';
import { DISTURB_RATIOS, type CoreHandbook } from './values.ts';
import { usualRanges, within, type CoreRanges } from '../../design/core-ranges.ts';
import type { CoreParameters, CoreRange, CoreTest } from '../../design/core.ts';

/** How far handbook values may be off where nothing is said; assumed. */
const HANDBOOK_TOLERANCE = 0.05;
/** How far a temperature coefficient of a handbook may be off, over itself; assumed. */
const COEFFICIENT = 0.2;

/** The test that a handbook core answers. */
export function testOf(h: CoreHandbook): CoreTest {
  return {
    fullDrive: h.fullDrive,
    rise: h.rise,
    tolerance: h.tolerance ?? HANDBOOK_TOLERANCE,
    disturbRatio: h.disturbRatio ?? DISTURB_RATIOS.coincidentCurrent,
    disturbs: h.disturbs ?? USUAL_DISTURBS,
    disturbWidth: readFlat(h),
    ...(hasDisturb(h) ? { disturbTolerance: h.tolerance ?? HANDBOOK_TOLERANCE } : {}),
    ...(h.secondPeak === undefined ? {} : { secondDrive: h.secondDrive }),
  };
}

/** F_0 from two peaks: each may be off by the tolerance, and v_p is rho (F - F_0), so their ratio tells it so far. */
function thresholdRange(p: CoreParameters, { fullDrive, secondDrive = 0, tolerance }: CoreTest): CoreRange {
  const F0 = p.dynamicThreshold;
  const half = Math.abs((tolerance * (fullDrive - F0) * (secondDrive - F0)) / (fullDrive - secondDrive));
  return {
    low: Math.max(0.05 * fullDrive, F0 - half),
    high: Math.min(0.95 * fullDrive, F0 + half),
    from: 'handbook',
  };
}

/** What a handbook leaves open: what it gives is known to its tolerance, the rest as of any such core. */
export function rangesOf(h: CoreHandbook, p: CoreParameters, test: CoreTest): CoreRanges {
  const { tolerance } = test;
  const edges = h.halfSelectOne !== undefined || h.disturbedZero !== undefined;
  const usual = usualRanges(p, test, 'handbook', 'unknown');
  return {
    ...usual,
    ...(hasDisturb(h) ? { coerciveDrive: { ...usual.coerciveDrive, from: 'handbook' } } : {}),
    ...(h.secondPeak === undefined ? {} : { dynamicThreshold: thresholdRange(p, test) }),
    ...(h.dynamicThreshold === undefined
      ? {}
      : { dynamicThreshold: within(p.dynamicThreshold, tolerance, 'handbook') }),
    ...(h.coerciveDrive === undefined
      ? {}
      : { coerciveDrive: within(p.coerciveDrive, tolerance, 'handbook') }),
    ...(h.ringSpread === undefined
      ? {}
      : { ringSpread: { low: 0.8 * h.ringSpread, high: 1.2 * h.ringSpread, from: 'handbook' } }),
    ...(edges
      ? {
          elasticSaturated: within(p.elasticSaturated, 2 * tolerance, 'handbook'),
          elasticKnee: within(p.elasticKnee, 2 * tolerance, 'handbook'),
        }
      : {}),
    ...(h.driveTemperatureCoefficient === undefined
      ? {}
      : {
          driveTemperatureCoefficient: within(h.driveTemperatureCoefficient, COEFFICIENT, 'handbook'),
        }),
    ...(h.fluxTemperatureCoefficient === undefined
      ? {}
      : { fluxTemperatureCoefficient: within(h.fluxTemperatureCoefficient, COEFFICIENT, 'handbook') }),
  };
}
