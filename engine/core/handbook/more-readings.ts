import { HandbookError, type CoreHandbook } from './values.ts';
import { keepReadings } from '../unknowns/keep-readings.ts';
import { disturbedPeak, disturbedOnePeak, type TestReadings } from '../unknowns/tested-core.ts';
import type { CoreParameters, CoreTest } from '../../design/core.ts';

/** Pulses of a disturb test where none are said. */
export const USUAL_DISTURBS = 1024;

/** Was a disturbed ONE or ZERO read? */
export const hasDisturb = (h: CoreHandbook): boolean =>
  h.disturbedOne !== undefined || h.disturbedPeak !== undefined;

/** Rounds of one threshold after the other; looks along F_c, and halvings of the way between two of them. */
const ROUNDS = 4;
const LOOKS = 60;
const HALVINGS = 18;
/** F_c over full drive: between these the disturbed reading is looked for. */
const COERCIVE = [0.35, 0.94] as const;
/** Widths of the dynamic knee over F_0 that are tried after the usual one; the last is the softest that is admitted. */
const SOFTER = [0.06, 0.1] as const;

/**
 * F_0 from the peak at a second drive, F_c (and s, where it must be softer) from a disturbed reading, where they were not measured themselves; undefined
 * without such readings. Throws HandbookError where no core gives them.
 * @param assumed the core that answers the readings at full drive with usual thresholds
 */
export function moreReadings(
  h: CoreHandbook,
  test: CoreTest,
  assumed: CoreParameters,
): Pick<CoreParameters, 'dynamicThreshold' | 'dynamicKneeWidth' | 'coerciveDrive'> | undefined {
  const second = h.secondPeak !== undefined && h.dynamicThreshold === undefined;
  const disturb = hasDisturb(h) && h.coerciveDrive === undefined;
  if (!second && !disturb) return undefined;
  const wanted: TestReadings = {
    peak: h.peakOne,
    peakTime: h.peakTime,
    switchingTime: h.switchTime,
    second: h.secondPeak ?? Number.NaN,
  };
  const turned = ['switchingResistance', 'squareness', 'remanentFlux'] as const;
  const answering = (p: CoreParameters): CoreParameters => {
    const found = keepReadings(p, test, wanted, second ? [...turned, 'dynamicThreshold'] : turned);
    if (found) return found;
    throw new HandbookError(
      second ? 'secondPeak' : 'disturbedPeak',
      second
        ? `secondPeak must belong to the core of peakOne, but no core of this model has both: measure both with the same rise.`
        : `the disturbed reading must belong to the core of peakOne, but no core of this model has both: measure both again.`,
    );
  };
  let p = assumed;
  for (let round = 0; round < ROUNDS; round++) {
    p = answering(p);
    if (!disturb) break;
    p = kneeFor(h, test, p);
  }
  const { dynamicThreshold, dynamicKneeWidth, coerciveDrive } = p;
  return { dynamicThreshold, dynamicKneeWidth, coerciveDrive };
}

/**
 * The core with the knee that gives the disturbed reading. Where F_0 is so high and sharp that half-selects would not
 * move the core whatever its F_c, a reading that shows a loss tells that F_0 is softer: the sharpest that will do.
 */
function kneeFor(h: CoreHandbook, test: CoreTest, p: CoreParameters): CoreParameters {
  const softer = SOFTER.map((share) => share * p.dynamicThreshold);
  for (const dynamicKneeWidth of [p.dynamicKneeWidth, ...softer.filter((s) => s > p.dynamicKneeWidth)]) {
    const coerciveDrive = coerciveFor(h, test, { ...p, dynamicKneeWidth });
    if (coerciveDrive !== undefined) return { ...p, dynamicKneeWidth, coerciveDrive };
  }
  const field = h.disturbedOne === undefined ? 'disturbedPeak' : 'disturbedOne';
  throw new HandbookError(
    field,
    `${field} must be what half-selects leave of this core, but no knee between ${COERCIVE[0]} and ${COERCIVE[1]} of ` +
      'fullDrive leaves so much: measure it again with the same rise.',
  );
}

/**
 * F_c at which the core gives the disturbed reading. The higher F_c, the less half-selects take; a ONE, though, keeps its
 * peak until they have taken much, so the highest F_c that gives the reading is taken, and where the reading shows no
 * loss at all the F_c at hand, if it shows none either. Undefined where no F_c gives it.
 */
function coerciveFor(h: CoreHandbook, test: CoreTest, p: CoreParameters): number | undefined {
  const excess = (coerciveDrive: number): number =>
    h.disturbedOne === undefined
      ? disturbedPeak({ ...p, coerciveDrive }, test) - h.disturbedPeak!
      : h.disturbedOne - disturbedOnePeak({ ...p, coerciveDrive }, test);
  const [least, most] = COERCIVE.map((part) => part * test.fullDrive) as [number, number];
  const step = (most - least) / LOOKS;
  let high = most;
  while (high > least && excess(high) <= 0) high -= step;
  if (high <= least || high === most)
    return Math.abs(excess(p.coerciveDrive)) < test.tolerance * h.peakOne ? p.coerciveDrive : undefined;
  let low = high;
  high += step;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
