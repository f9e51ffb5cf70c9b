import { Matrix } from 'ml-matrix';
import { rootOf } from '../numerics/gaussian.ts';
import { normalDeviates, randomStream } from '../numerics/random.ts';
import { quantile } from '../numerics/statistics.ts';
import type { Outlook } from './outlook.ts';
import { shortAt } from './shortcoming.ts';
import { FIGURES, type FigureName } from './standing.ts';

export const slopesAlong = ({ slopes }: Outlook, name: FigureName): number[] =>
  slopes.map((s) => s[FIGURES.indexOf(name)]!);

/** Standard deviation of what the model itself does not give of a figure. */
export function figureShort({ design, base, standing, short, ensemble }: Outlook, name: FigureName): number {
  const { figures, heard, time } = base;
  const step = design.numerics.output;
  const strobe = (design.strobe.time ?? figures.strobe) - ensemble.uncertainties.delay;
  const at = Math.max(0, Math.min(time.length - 1, Math.round(strobe / step)));
  const side = (which: 'leastOne' | 'greatestZero'): number =>
    shortAt(heard[standing.shown[which]]!, step, short)[at]!;
  switch (name) {
    case 'peak':
      return short.share * figures.peak;
    case 'peakTime':
    case 'strobe':
      return short.late;
    case 'threshold':
      return Math.hypot(side('leastOne'), side('greatestZero')) / 2;
    case 'one':
    case 'cornerOne':
      return side('leastOne');
    case 'zero':
    case 'cornerZero':
      return side('greatestZero');
  }
}

/** Draws by which the lesser of two sides is told; their seed is always the same. */
const DRAWS = 4000;

/** 95 % interval of the lesser of two sides that are normal together, V. */
export function lesserInterval(
  outlook: Outlook,
  sides: readonly FigureName[],
  known = outlook.known,
): { readonly low: number; readonly high: number } {
  const slopes = new Matrix(sides.map((side) => slopesAlong(outlook, side)));
  const covariance = slopes.mmul(known.covariance).mmul(slopes.transpose());
  sides.forEach((side, i) => covariance.set(i, i, covariance.get(i, i) + figureShort(outlook, side) ** 2));
  const root = rootOf(covariance);
  const middle = sides.map(
    (side, i) =>
      outlook.base.figures[side] + slopes.getRow(i).reduce((sum, s, k) => sum + s * known.mean[k]!, 0),
  );
  const normal = normalDeviates(randomStream(1, 0));
  const drawn = Float64Array.from({ length: DRAWS }, () => {
    const z = sides.map(() => normal());
    return Math.min(...middle.map((m, i) => m + z.reduce((sum, v, k) => sum + root.get(i, k) * v, 0)));
  });
  return { low: quantile(drawn, 0.025), high: quantile(drawn, 0.975) };
}
