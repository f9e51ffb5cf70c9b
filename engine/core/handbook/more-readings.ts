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

/**
 * F_0 from the peak at a second drive, F_c from a disturbed reading, where they were not measured themselves; undefined
 * without such readings. Throws HandbookError where no core gives them.
 * @param assumed the core that answers the readings at full drive with usual thresholds
 */
export function moreReadings(
  h: CoreHandbook,
  test: CoreTest,
  assumed: CoreParameters,
): Pick<CoreParameters, 'dynamicThreshold' | 'coerciveDrive'> | undefined {
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
    p = { ...p, coerciveDrive: coerciveFor(h, test, p) };
  }
  return { dynamicThreshold: p.dynamicThreshold, coerciveDrive: p.coerciveDrive };
}

/**
 * F_c at which the core gives the disturbed reading. The higher F_c, the less half-selects take; a ONE, though, keeps its
 * peak until they have taken much, so the highest F_c that gives the reading is taken, and where the reading shows no
 * loss at all the F_c at hand, if it shows none either.
 */
function coerciveFor(h: CoreHandbook, test: CoreTest, p: CoreParameters): number {
  const excess = (coerciveDrive: number): number =>
    h.disturbedOne === undefined
      ? disturbedPeak({ ...p, coerciveDrive }, test) - h.disturbedPeak!
      : h.disturbedOne - disturbedOnePeak({ ...p, coerciveDrive }, test);
  const [least, most] = COERCIVE.map((part) => part * test.fullDrive) as [number, number];
  const step = (most - least) / LOOKS;
  let high = most;
  while (high > least && excess(high) <= 0) high -= step;
  if (high <= least || high === most) {
    if (Math.abs(excess(p.coerciveDrive)) < test.tolerance * h.peakOne) return p.coerciveDrive;
    const field = h.disturbedOne === undefined ? 'disturbedPeak' : 'disturbedOne';
    throw new HandbookError(
      field,
      `${field} must be what half-selects leave of this core, but no knee between ${COERCIVE[0]} and ${COERCIVE[1]} of ` +
        'fullDrive leaves so much: measure it again with the same rise.',
    );
  }
  let low = high;
  high += step;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
