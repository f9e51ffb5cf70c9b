import { h } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { NamedLine } from './result-chart.ts';
import type { Given, Score } from './score.ts';
import type { Curve } from './step.ts';
import { scoreText, whyNotText } from './words/score-words.ts';
import type { ToldStep } from './words/shape.ts';

/** Whether it is so, by how much it was missed, and why not. */
export function scoreNodes({ step, told, words }: ToldStep, found: Score): Node[] {
  const whyNot = whyNotText(words, told, step.ask, found);
  const { right } = found;
  const { scores } = words;
  const verdict = found.kind === 'moved' ? [scores.enough, scores.notEnough] : [scores.right, scores.wrong];
  return [
    h(
      'p',
      { class: right ? 'status-ok' : 'status-error' },
      icon(right ? 'ok' : 'error'),
      h('strong', {}, verdict[right ? 0 : 1]!),
      `${scoreText(words, told, step.ask, found)}.`,
    ),
    ...(whyNot === '' ? [] : [h('p', { class: 'why-not' }, whyNot)]),
  ];
}

/** What was drawn, to lie over what is so. */
export function drawnOf({ step: { ask }, words }: ToldStep, given: Given): readonly NamedLine[] {
  if (ask.kind !== 'draw' || given.kind !== 'draw') return [];
  return [
    {
      label: words.learn.drawn,
      style: 'half',
      ...evenly(ask.at, given.values),
    },
  ];
}

/** Points of a drawing that lines of a chart have: evenly apart, s. */
const POINT = 2e-9;

/** Straight from point to point, at even steps. */
function evenly(at: readonly number[], values: readonly number[]): Curve {
  const time = Float64Array.from({ length: Math.round(at.at(-1)! / POINT) + 1 }, (_, i) => i * POINT);
  return {
    time,
    values: time.map((t) => {
      const found = at.findIndex((point) => point >= t);
      const next = found < 0 ? at.length - 1 : Math.max(1, found);
      const [from, to] = [at[next - 1]!, at[next]!];
      const part = Math.min(1, (t - from) / (to - from));
      return values[next - 1]! + part * (values[next]! - values[next - 1]!);
    }),
  };
}
