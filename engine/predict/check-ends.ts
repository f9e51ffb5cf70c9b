import { Matrix } from 'ml-matrix';
import type { Design } from '../design/design.ts';
import { along } from '../numerics/gaussian.ts';
import { REACH } from './knowledge.ts';
import type { Outlook } from './outlook.ts';
import type { Prediction } from './prediction.ts';
import { FIGURES, type FigureName, type Given } from './standing.ts';

/** Full runs at the ends of the intervals, and how far the straight lines were off there. */
export interface CheckedEnds {
  readonly given: readonly Given[];
  readonly told: Prediction['straight'];
}

/** Straight lines hold where a full run at an end is off them by no more than this part of half the interval. */
const HOLDS = 0.3;

/**
 * Runs the design at both ends of the interval of the peak and of the side that decides the margin, each where it is
 * likeliest to be reached, all that is unknown moved together.
 */
export function checkEnds(outlook: Outlook): CheckedEnds {
  const { base } = outlook;
  const side: FigureName = base.figures.cornerOne < base.figures.cornerZero ? 'cornerOne' : 'cornerZero';
  const [peak, margin] = (['peak', side] as const).map((name) => endsOf(outlook, name));
  const given = [...peak!.given, ...margin!.given];
  const told = {
    runs: given.length,
    margin: margin!.off,
    peak: peak!.off,
    holds: Math.max(margin!.off, peak!.off) <= HOLDS,
  };
  return { given, told };
}

function endsOf(outlook: Outlook, name: FigureName): { given: Given[]; off: number } {
  const { known, slopes, directions, base, design } = outlook;
  const own = slopes.map((s) => s[FIGURES.indexOf(name)]!);
  const { deviation } = along(known, own);
  if (!(deviation > 0)) return { given: [], off: 0 };
  const toward = known.covariance.mmul(Matrix.columnVector(own)).to1DArray();
  const given: Given[] = [];
  let off = 0;
  for (const sign of [-1, 1]) {
    const z = directions.map(({ low, high }, i) => {
      const at = known.mean[i]! + (sign * REACH * toward[i]!) / deviation;
      return Math.min(high, Math.max(low, at));
    });
    const moved = directions.reduce<Design>((from, { at }, i) => (z[i] === 0 ? from : at(from, z[i]!)), design);
    const found = outlook.give(moved);
    if (found === undefined) continue;
    given.push(found);
    const straight = base.figures[name] + own.reduce((sum, s, i) => sum + s * z[i]!, 0);
    off = Math.max(off, Math.abs(found.figures[name] - straight) / (REACH * deviation));
  }
  return { given, off };
}
