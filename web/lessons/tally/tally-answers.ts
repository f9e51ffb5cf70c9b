import { html, nothing, type TemplateResult } from 'lit-html';
import { iconView } from '../../ui/icon-view.ts';
import { scrollTable } from '../../ui/table.ts';
import { inLanguage } from '../result-chart.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber, quantityText } from '../words/say.ts';
import { choiceCounts, pointsOf } from './distribution.ts';
import { dotStrip } from './dot-strip.ts';
import { drawingsOf, overlaidChart } from './overlaid.ts';
import type { StepTally } from './step-tally.ts';

/** What a picture of the answers has room for, px. */
export interface Room {
  readonly width: number;
  readonly em: number;
}

/** The answers to one step as counts, dots or drawings laid over each other. */
export function answersView(
  w: MadeWords,
  tally: StepTally,
  place: number,
  { width, em }: Room,
): TemplateResult | typeof nothing {
  const choices = choiceCounts(w, tally);
  if (choices) return choicesView(w, tally, choices);
  const drawings = drawingsOf(tally);
  if (drawings)
    return html`${inLanguage(
      w.course,
      overlaidChart(drawings, {
        id: `tally-${place}`,
        name: w.tally.drawings(tally.title, drawings.drawn.length),
        width,
        em,
      }),
    )}`;
  const points = pointsOf(tally);
  if (!points) return nothing;
  const { unit, target } = points;
  const told =
    target === undefined
      ? ''
      : unit === ''
        ? plainNumber(w.course, Number(target.toPrecision(3)))
        : quantityText(w.course, target, unit, 3);
  return html`${inLanguage(
    w.course,
    dotStrip({
      ...points,
      name: `${w.tally.distribution(tally.title)}: ${tally.answers.map(({ text }) => text).join('; ')}`,
      symbol: unit === 'V' ? 'u' : unit === 's' ? 't' : '',
      targetText: w.tally.asked(told),
      width,
      em,
    }),
  )}`;
}

const choicesView = (
  w: MadeWords,
  tally: StepTally,
  choices: NonNullable<ReturnType<typeof choiceCounts>>,
): TemplateResult =>
  scrollTable({
    name: w.tally.distribution(tally.title),
    heads: [w.tally.answerHead, w.tally.studentsHead, ''],
    className: 'tally-choices',
    rows: choices.map(({ text, count, right }) => [
      html`${right ? iconView('ok') : nothing}${text}`,
      count,
      html`<meter
        min="0"
        max=${Math.max(1, tally.answers.length)}
        .value=${count}
        aria-hidden="true"
      ></meter>`,
    ]),
  });
