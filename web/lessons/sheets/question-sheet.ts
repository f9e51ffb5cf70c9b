import { traceChart } from '../../charts/trace-chart.ts';
import { h } from '../../ui/dom.ts';
import { chartNotes, inLanguage, resultChart } from '../result-chart.ts';
import { drawTimes, topOf } from '../made/evaluate.ts';
import type { Evaluated } from '../made/evaluated.ts';
import { isOwn, type MadeStep, type OwnStep } from '../made/lesson.ts';
import { ownChart } from '../made/own-chart.ts';
import { unitOf } from '../made/say.ts';
import { lineCores, type BitsAsk, type SetAsk } from '../moved.ts';
import type { Exhibit, StepResult } from '../step.ts';
import type { MadeWords } from '../words/made-words.ts';
import { quantityText, wordFor } from '../words/say.ts';
import type { ToldStep } from '../words/shape.ts';

/** px: A4 and Letter within their margins. */
export const ON_PAPER = { width: 680, height: 220, em: 1 };

export interface SheetStep {
  /** With the value of the sheet's number in place. */
  readonly step: MadeStep;
  /** From 1. */
  readonly number: number;
  /** Unique on the page. */
  readonly id: string;
  readonly evaluated: Evaluated | undefined;
  /** Of a step of the course. */
  readonly course?: CourseSheet;
}

export interface CourseSheet {
  readonly told: ToldStep;
  readonly result: StepResult;
  /** What is seen before the question. */
  readonly exhibit: Exhibit | undefined;
}

/** A question on paper: what is told, where it is answered, and a line for the reason. */
export function questionNode(w: MadeWords, sheet: SheetStep): HTMLElement {
  const { step, number } = sheet;
  const { title, text, question } = isOwn(step) ? step : sheet.course!.told.told;
  return h(
    'section',
    { class: 'paper-question' },
    h('h3', {}, `${number} ${title}`),
    text === '' ? undefined : h('p', {}, text),
    h('p', {}, h('strong', {}, question)),
    ...(isOwn(step) ? ownPlace(w, sheet, step) : coursePlace(w, sheet.id, sheet.course!)),
    h('p', { class: 'paper-line' }, w.sheets.reason),
  );
}

const emptyAxes = (w: MadeWords, id: string, at: readonly number[], most: number): SVGSVGElement =>
  inLanguage(
    w.course,
    traceChart({
      ...ON_PAPER,
      height: 270,
      id,
      name: w.sheets.sketch,
      time: { from: at[0]!, to: at.at(-1)! },
      value: { low: -most / 3, high: most },
      quantity: { symbol: 'u', unit: 'V' },
      lines: [],
    }).node,
  );

const boxes = (texts: readonly string[]): HTMLElement =>
  h('ul', { class: 'paper-boxes' }, ...texts.map((text) => h('li', {}, text)));

const answerLine = (w: MadeWords, unit: string): HTMLElement =>
  h('p', { class: 'paper-line' }, `${w.sheets.answer} ${unit}`);

function ownPlace(w: MadeWords, { id, evaluated }: SheetStep, { ask, title }: OwnStep): Node[] {
  switch (ask.kind) {
    case 'choose':
      return [boxes(ask.choices.map(({ text }) => text))];
    case 'number':
      return [answerLine(w, `(${unitOf(ask)})`)];
    case 'set':
      return [answerLine(w, `${ask.name}, ${w.tally.range(ask.from, ask.to)}:`)];
    case 'draw':
      return [h('p', { class: 'note small' }, w.sheets.sketch), emptyAxes(w, id, drawTimes(ask), topOf(ask))];
    case 'place': {
      if (!evaluated) return [answerLine(w, ask.moved === 'strobe' ? '(ns)' : '(mV)')];
      // Neither the strobe nor the threshold that is asked for stands in the picture.
      const { strobe: _, threshold, ...rest } = evaluated.shown;
      const shown = ask.moved === 'strobe' && threshold !== undefined ? { ...rest, threshold } : rest;
      return [
        h('p', { class: 'note small' }, w.sheets.mark),
        ownChart(w, shown, { id, name: title, size: ON_PAPER }).node,
        answerLine(w, ask.moved === 'strobe' ? '(ns)' : '(mV)'),
      ];
    }
  }
}

function coursePlace(w: MadeWords, id: string, { told, result, exhibit }: CourseSheet): Node[] {
  const { ask } = told.step;
  const picture = exhibit ? [resultChart(told, exhibit, `${id}-seen`, told.told.title, ON_PAPER).node] : [];
  switch (ask.kind) {
    case 'choose':
      return [...picture, boxes(ask.choices.map((key) => wordFor(told.told.choices, key).text))];
    case 'number':
      return [...picture, answerLine(w, ask.unit === '' ? '' : `(${ask.unit})`)];
    case 'set':
      return [answerLine(w, w.tally.range(...setEnds(w, ask)))];
    case 'bits':
      return [h('p', { class: 'note small' }, w.sheets.writeBits), paperBits(ask)];
    case 'board':
      return [answerLine(w, '(mV)')];
    case 'draw':
      return [h('p', { class: 'note small' }, w.sheets.sketch), emptyAxes(w, id, ask.at, ask.most)];
    case 'place': {
      const { place, ...rest } = result;
      const shown = place ? { ...rest, place: { threshold: place.threshold, strobeZones: [] } } : rest;
      return [
        h('p', { class: 'note small' }, w.sheets.mark),
        resultChart(told, shown, id, told.told.title, ON_PAPER).node,
        ...chartNotes(told, result),
        answerLine(w, '(ns)'),
      ];
    }
  }
}

const setEnds = (w: MadeWords, ask: SetAsk): [low: string, high: string] => [
  quantityText(w.course, ask.from, ask.unit, 3),
  quantityText(w.course, ask.to, ask.unit, 3),
];

/** Cores to write 0 or 1 into; of those on no line of the core that is read nothing is asked. */
function paperBits(ask: BitsAsk): HTMLElement {
  const asked = lineCores(ask);
  const kind = (row: number, column: number): string =>
    asked.some((core) => core.row === row && core.column === column)
      ? 'paper-bit'
      : row === ask.read.row && column === ask.read.column
        ? 'paper-bit-read'
        : '';
  return h(
    'table',
    { class: 'paper-bits' },
    ...Array.from({ length: ask.rows }, (_, row) =>
      h(
        'tr',
        {},
        ...Array.from({ length: ask.columns }, (__, column) => h('td', { class: kind(row, column) })),
      ),
    ),
  );
}
