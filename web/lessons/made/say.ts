import type { Unit } from '../../../engine/base/units.ts';
import type { Coded } from './answer-code.ts';
import { topOf } from './evaluate.ts';
import type { Evaluated, OwnTruth, Refusal, Scan } from './evaluated.ts';
import type { LineName } from './shown.ts';
import { MEASURES, SHOWN, type Measure, type OwnAsk } from './lesson.ts';
import { levelVolts } from './levels.ts';
import type { OwnScore } from './score-own.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber, quantityText } from '../words/say.ts';

const volts = (w: MadeWords, value: number): string => quantityText(w.course, value, 'V', 3);
const measured = (w: MadeWords, measure: Measure, value: number): string =>
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

export function refusalText(w: MadeWords, ask: OwnAsk, refusal: Refusal): string {
  const { refusals } = w;
  switch (refusal.code) {
    case 'choices':
      return refusals.choices(
        w.measures[refusal.measure],
        measured(w, refusal.measure, refusal.value),
        refusal.holding,
      );
    case 'nothing':
      return refusals.nothing(w.measures[refusal.measure]);
    case 'tolerance':
      return refusals.tolerance(
        `${plainNumber(w.course, refusal.least)} %`,
        `${plainNumber(w.course, ask.kind === 'number' ? ask.within : 0)} %`,
      );
    case 'target':
      return refusals.target(
        w.measures[refusal.measure],
        w.senses[refusal.sense],
        measured(w, refusal.measure, refusal.target),
        measured(w, refusal.measure, refusal.reached),
        quantityText(w.course, refusal.at, placeUnit(ask), 3),
      );
    case 'drawing':
      return refusals.drawing(
        volts(w, refusal.off),
        volts(w, refusal.low),
        volts(w, refusal.high),
        ask.kind === 'draw' ? ask.within : '',
      );
  }
}

/** What a question comes to, for its maker. */
export function reachedText(w: MadeWords, ask: OwnAsk, { truth }: Evaluated): string {
  switch (truth.kind) {
    case 'choose': {
      const choice = ask.kind === 'choose' ? ask.choices[truth.right]!.text : '';
      if (ask.kind !== 'choose' || ask.measure === undefined || truth.value === undefined)
        return w.reached.choose(choice);
      return w.reached.chooseValue(measured(w, ask.measure, truth.value), choice);
    }
    case 'number':
      return w.reached.number(truthText(w, ask, truth));
    case 'scan': {
      const right = truth.got.filter((value) =>
        truth.sense === 'atLeast' ? value >= truth.target : value <= truth.target,
      ).length;
      return w.reached.scan(
        placeText(w, ask, truth, truth.best),
        gotText(w, ask, truth, truth.best),
        right,
        truth.at.length,
      );
    }
    case 'draw':
      return w.reached.draw(volts(w, Math.min(...truth.so)), volts(w, Math.max(...truth.so)));
  }
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
