import { along, rootOf } from '../numerics/gaussian.ts';
import { describeCase } from '../strobe/case-overrides.ts';
import { checkEnds, ENDS_CHECKED, type CheckedEnds } from './check-ends.ts';
import { REACH } from './knowledge.ts';
import { outlookOn, type Outlook, type OutlookRequest } from './outlook.ts';
import { outsideOf } from './outside.ts';
import type { Held, HeldTrace, Prediction } from './prediction.ts';
import { shortAt } from './shortcoming.ts';
import { FIGURES, SHOWN, type FigureName } from './standing.ts';
import { marginParts } from './margin-parts.ts';
import { figureShort, lesserInterval, slopesAlong } from './figures.ts';

/**
 * What a design will do that is known as far as captures have told it: another size, current, temperature or winding, with
 * 95 % intervals. They hold what is open of every value that the captures do not fix, noise counted, and what the model is not
 * expected to give; straight lines carry them, and full runs at the ends widen them where these do not hold. Throws
 * DesignError, FitError or FitCancelled.
 */
export function predict(request: OutlookRequest): Prediction {
  const outlook = outlookOn(request, () => ENDS_CHECKED);
  const { design, base, standing, short, directions } = outlook;
  const ends = checkEnds(outlook);
  outlook.runs.finish();
  const figures = figuresHeld(outlook, ends);
  return {
    design,
    observed: request.observed ?? 'sense',
    captures: outlook.told.captures.length,
    time: base.time,
    traces: tracesHeld(outlook, ends),
    peak: figures('peak'),
    peakTime: figures('peakTime'),
    strobe: figures('strobe'),
    threshold: figures('threshold'),
    margin: marginHeld(outlook, ends, ['one', 'zero']),
    corners: marginHeld(outlook, ends, ['cornerOne', 'cornerZero']),
    outside: outsideOf(outlook),
    parts: marginParts(outlook),
    straight: ends.told,
    short,
    runs: outlook.runs.count,
  };

  function tracesHeld(of: Outlook, { given }: CheckedEnds): HeldTrace[] {
    const n = base.time.length;
    const root = rootOf(of.known.covariance);
    const step = design.numerics.output;
    return SHOWN.map((name, k) => {
      const place = standing.shown[name];
      const value = base.probed[place]!;
      const first = FIGURES.length + k * n;
      const wrong = shortAt(value, step, short);
      const [low, high] = [value.slice(), value.slice()];
      for (let i = 0; i < n; i++) {
        const slopes = of.slopes.map((s) => s[first + i]!);
        const { mean } = along(of.known, slopes);
        let variance = wrong[i]! ** 2;
        for (let c = 0; c < directions.length; c++) {
          let sum = 0;
          for (let r = 0; r < directions.length; r++) sum += slopes[r]! * root.get(r, c);
          variance += sum ** 2;
        }
        const half = REACH * Math.sqrt(variance);
        const full = given.map(({ probed }) => probed[place]![i]!);
        low[i] = Math.min(value[i]!, value[i]! + mean - half, ...full);
        high[i] = Math.max(value[i]!, value[i]! + mean + half, ...full);
      }
      const spec = standing.specs[place]!;
      return { name, case: describeCase(spec), value, low, high };
    });
  }

  function figuresHeld(of: Outlook, { given }: CheckedEnds): (name: FigureName) => Held {
    return (name) => {
      const value = base.figures[name];
      const { mean, deviation } = along(of.known, slopesAlong(of, name));
      const half = REACH * Math.hypot(deviation, figureShort(of, name));
      const full = given.map(({ figures: found }) => found[name]);
      return {
        value,
        low: Math.min(value, value + mean - half, ...full),
        high: Math.max(value, value + mean + half, ...full),
      };
    };
  }

  function marginHeld(
    of: Outlook,
    { given }: CheckedEnds,
    sides: readonly ['one', 'zero'] | readonly ['cornerOne', 'cornerZero'],
  ): Held {
    const least = (found: (typeof base)['figures']): number => Math.min(...sides.map((side) => found[side]));
    const value = least(base.figures);
    const { low, high } = lesserInterval(of, sides);
    const full = given.map(({ figures: found }) => least(found));
    return { value, low: Math.min(value, low, ...full), high: Math.max(value, high, ...full) };
  }
}
