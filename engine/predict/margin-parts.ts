import { MODEL_ITSELF, nameOf } from './direction-words.ts';
import type { Direction } from './direction.ts';
import { REACH } from './knowledge.ts';
import type { Outlook } from './outlook.ts';
import { figureShort, slopesAlong } from './figures.ts';
import type { FigureName } from './standing.ts';

/** The side of the threshold that decides the margin at the corners. */
export const decidingSide = ({ base }: Outlook): FigureName =>
  base.figures.cornerOne < base.figures.cornerZero ? 'cornerOne' : 'cornerZero';

/** V, plus or minus: what some of the directions, as far as they are still open, come to in the margin. */
export function reachOf(outlook: Outlook, which: (direction: Direction) => boolean): number {
  const slopes = slopesAlong(outlook, decidingSide(outlook));
  const { covariance } = outlook.known;
  let variance = 0;
  outlook.directions.forEach((a, i) =>
    outlook.directions.forEach((b, k) => {
      if (which(a) && which(b)) variance += slopes[i]! * slopes[k]! * covariance.get(i, k);
    }),
  );
  return REACH * Math.sqrt(Math.max(0, variance));
}

/** Parts under this share of the greatest are not told. */
const TOLD = 0.05;

/** What the margin's interval is made of, widest first. */
export function marginParts(outlook: Outlook): { readonly name: string; readonly reach: number }[] {
  const parts = [
    ...outlook.directions.map((direction) => ({
      name: nameOf(direction),
      reach: reachOf(outlook, (each) => each === direction),
    })),
    { name: MODEL_ITSELF, reach: REACH * figureShort(outlook, decidingSide(outlook)) },
  ].sort((a, b) => b.reach - a.reach);
  return parts.filter(({ reach }) => reach > TOLD * parts[0]!.reach);
}
