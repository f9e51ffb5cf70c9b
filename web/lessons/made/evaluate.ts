import { parseQuantity } from '../../../engine/base/units.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import type { Evaluated } from './evaluated.ts';
import { levelOf, levelVolts } from './levels.ts';
import { MEASURES, type ChooseAsk, type DrawAsk, type NumberAsk, type OwnStep } from './lesson.ts';
import { Bench } from './measures.ts';
import { evaluatePlace, evaluateSet } from './scans.ts';
import { shownFor, type Shown } from './shown.ts';

/** The step with a value of its varied input already in place. Throws DesignError for a board that does not hold. */
export function evaluate(step: OwnStep): Evaluated {
  const bench = new Bench(step.board);
  switch (step.ask.kind) {
    case 'choose':
      return choose(bench, step.ask);
    case 'number':
      return number(bench, step.ask);
    case 'place':
      return evaluatePlace(bench, step.ask);
    case 'set':
      return evaluateSet(bench, step.ask, step);
    case 'draw':
      return draw(bench, step.ask);
  }
}

function choose(bench: Bench, ask: ChooseAsk): Evaluated {
  const { measure } = ask;
  const shown = shownFor(bench, measure);
  if (measure === undefined) return { shown, truth: { kind: 'choose', right: ask.right ?? 0 } };
  const value = bench.measure(measure);
  if (value === undefined)
    return { shown, truth: { kind: 'choose', right: 0 }, refusal: { code: 'nothing', measure } };
  const unit = MEASURES[measure];
  const limit = (text: string | undefined, open: number): number =>
    text === undefined || text === '' ? open : parseQuantity(text, unit);
  const holding = ask.choices.flatMap(({ from, to }, k) =>
    value >= limit(from, -Infinity) && value < limit(to, Infinity) ? [k] : [],
  );
  return {
    shown,
    truth: { kind: 'choose', right: holding[0] ?? 0, value },
    ...(holding.length === 1
      ? {}
      : { refusal: { code: 'choices', measure, value, holding: holding.length } as const }),
  };
}

/** Of a number that is rounded to three digits, in per cent of it: half a unit of the last of 100. */
const ROUNDING = 0.5;

function number(bench: Bench, { measure, within }: NumberAsk): Evaluated {
  const value = bench.measure(measure);
  const shown = shownFor(bench, measure);
  const truth = { kind: 'number', value: value ?? 0 } as const;
  if (value === undefined) return { shown, truth, refusal: { code: 'nothing', measure } };
  return within < ROUNDING
    ? { shown, truth, refusal: { code: 'tolerance', least: ROUNDING } }
    : { shown, truth };
}

function draw(bench: Bench, ask: DrawAsk): Evaluated {
  const { time, values } = bench.curve(ask.curve);
  const at = drawTimes(ask);
  const so = at.map((t) => valueAt(time, values, t));
  const nearest = so.map((value) => levelVolts(topOf(ask), levelOf(topOf(ask), value)));
  const off = meanDifference(nearest, so);
  const truth = { kind: 'draw', so, time: at } as const;
  const shown: Shown = { lines: [{ name: ask.curve, time, values }], span: [at[0]!, at.at(-1)!] };
  if (off <= parseQuantity(ask.within, 'V')) return { shown, truth };
  return { shown, truth, refusal: { code: 'drawing', off, high: Math.max(...so), low: Math.min(...so) } };
}

export const drawTimes = ({ at }: Pick<DrawAsk, 'at'>): number[] =>
  at.map((text) => parseQuantity(text, 's'));

/** V at the top of the empty plot. */
export const topOf = ({ most }: Pick<DrawAsk, 'most'>): number => parseQuantity(most, 'V');

export const meanDifference = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, k) => sum + Math.abs(value - b[k]!), 0) / a.length;
