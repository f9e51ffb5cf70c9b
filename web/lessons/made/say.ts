import type { Unit } from '../../../engine/base/units.ts';
import type { Coded } from './answer-code.ts';
import { topOf } from './evaluate.ts';
import type { OwnTruth, Scan } from './evaluated.ts';
import type { LineName } from './shown.ts';
import { MEASURES, SHOWN, type Measure, type OwnAsk } from './lesson.ts';
import { levelVolts } from './levels.ts';
import type { OwnScore } from './score-own.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber, quantityText } from '../words/say.ts';

export const volts = (w: MadeWords, value: number): string => quantityText(w.course, value, 'V', 3);
export const measured = (w: MadeWords, measure: Measure, value: number): string =>
  quantityText(w.course, value, MEASURES[measure], 3);

/** The unit in which a number is asked for and typed. */
export const unitOf = ({ measure }: { readonly measure: Measure }): 'mV' | 'ns' =>
  SHOWN[MEASURES[measure]].unit;

/** In the unit that it is asked in, which a prefix does not change. */
const inUnit = (w: MadeWords, measure: Measure, value: number): string =>
  `${quantityText(w.course, value / SHOWN[MEASURES[measure]].size, '1', 3)} ${SHOWN[MEASURES[measure]].unit}`;

/** Of what a slider stands for. */
export function placeUnit(ask: OwnAsk): Unit {
  if (ask.kind === 'set') return ask.unit;
  return ask.kind === 'place' && ask.moved === 'strobe' ? 's' : 'V';
}

export const scanMeasure = (ask: OwnAsk): Measure => (ask.kind === 'set' ? ask.measure : 'left');

export const lineName = (w: MadeWords, name: LineName): string =>
  name === 'leastOne' || name === 'greatestZero' ? w.lines[name] : w.curves[name];

/** How near an answer came. */
export function scoreText(
  w: MadeWords,
  ask: OwnAsk,
  truth: OwnTruth,
  answer: Coded,
  score: OwnScore,
): string {
  if (truth.kind === 'choose') return truthText(w, ask, truth);
  if (ask.kind === 'number' && truth.kind === 'number' && answer.kind === 'number')
    return w.play.numberSo(
      `${quantityText(w.course, answer.value, '1', 3)} ${unitOf(ask)}`,
      inUnit(w, ask.measure, truth.value),
    );
  if (truth.kind === 'scan' && answer.kind === 'index')
    return w.play.scanSo(
      placeText(w, ask, truth, answer.index),
      gotText(w, ask, truth, answer.index),
      placeText(w, ask, truth, truth.best),
      gotText(w, ask, truth, truth.best),
    );
  return w.play.drawSo(volts(w, score.off ?? 0));
}

/** What is so, for a key. */
export function truthText(w: MadeWords, ask: OwnAsk, truth: OwnTruth): string {
  switch (truth.kind) {
    case 'choose': {
      const text = ask.kind === 'choose' ? ask.choices[truth.right]!.text : '';
      return truth.value === undefined ? `${text}${w.play.makerSays}` : text;
    }
    case 'number':
      return ask.kind === 'number' ? inUnit(w, ask.measure, truth.value) : '';
    case 'scan':
      return `${placeText(w, ask, truth, truth.best)}: ${gotText(w, ask, truth, truth.best)}`;
    case 'draw':
      return '';
  }
}

export const placeText = (w: MadeWords, ask: OwnAsk, { at }: Scan, index: number): string =>
  quantityText(w.course, at[index]!, placeUnit(ask), 3);

export function gotText(w: MadeWords, ask: OwnAsk, { got }: Scan, index: number): string {
  const value = got[index]!;
  return Number.isNaN(value) ? w.play.none : measured(w, scanMeasure(ask), value);
}

/** Why not, and what to look at: the maker's own, or what is said where there is none. */
export function whyNotText(w: MadeWords, ask: OwnAsk, answer: Coded, { fault }: OwnScore): string {
  if (fault === undefined) return '';
  if (ask.kind === 'choose') return answer.kind === 'choose' ? ask.choices[answer.chosen]!.whyNot : '';
  if (ask.kind === 'draw') {
    if (fault === 'chosen') return '';
    return ask.whyNot[fault] || w.drawing[fault];
  }
  return fault === 'low' ? ask.tooLow : ask.tooHigh;
}

/** An answer as it was given, for a list. */
export function answerText(w: MadeWords, ask: OwnAsk, truth: OwnTruth, answer: Coded): string {
  if (ask.kind === 'choose' && answer.kind === 'choose') return ask.choices[answer.chosen]?.text ?? '';
  if (ask.kind === 'number' && answer.kind === 'number')
    return `${plainNumber(w.course, answer.value)} ${unitOf(ask)}`;
  if (truth.kind === 'scan' && answer.kind === 'index')
    return answer.index < truth.at.length ? placeText(w, ask, truth, answer.index) : '';
  if (ask.kind === 'draw' && answer.kind === 'levels')
    return answer.levels
      .map((level) => plainNumber(w.course, Number((levelVolts(topOf(ask), level) * 1e3).toPrecision(3))))
      .join(' ');
  return '';
}
