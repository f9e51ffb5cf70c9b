import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { bitsText, setValue } from '../moved.ts';
import type { DrawingFault } from '../score-drawing.ts';
import type { Score } from '../score.ts';
import type { Ask, Figure, Truth } from '../step.ts';
import { figureText, numberText, wordFor } from './say.ts';
import type { Words } from './shape.ts';
import type { StepWords } from './step-words.ts';

const volts = (value: number, digits = 3): Figure => ({ value, unit: 'V', digits });
const seconds = (value: number, digits = 3): Figure => ({ value, unit: 's', digits });

/** How near it came, or what is so. */
export function scoreText(words: Words, step: StepWords, ask: Ask, score: Score): string {
  const { scores } = words;
  const tell = (figure: Figure): string => figureText(words, figure);
  switch (score.kind) {
    case 'choose':
      return choiceText(step, ask, score.so);
    case 'number': {
      const unit = ask.kind === 'number' ? ask.unit : '';
      return scores.number(numberText(words, score.value, unit), numberText(words, score.so, unit));
    }
    case 'place': {
      const there =
        score.left >= 0 ? scores.left(tell(volts(score.left))) : scores.wrongBy(tell(volts(-score.left)));
      return scores.place(
        tell(seconds(score.time)),
        there,
        tell(seconds(score.best)),
        tell(volts(score.most)),
      );
    }
    case 'draw':
      return scores.draw(tell(volts(score.off, 2)));
    case 'moved':
      return scores.moved(
        tell(volts(score.got)),
        tell(volts(score.need)),
        score.most === undefined ? undefined : tell(volts(score.most)),
      );
  }
}

/** Why not, and what to try; empty where it is right. */
export function whyNotText(words: Words, step: StepWords, ask: Ask, score: Score): string {
  if (score.right) return '';
  switch (score.kind) {
    case 'choose':
      return wordFor(step.choices, choiceKey(ask, score.chosen)).whyNot;
    case 'number':
    case 'place':
    case 'moved':
      return score.fault === undefined ? '' : wordFor(step.whyNot, score.fault);
    case 'draw':
      return score.fault === undefined ? '' : drawingText(words, score.fault);
  }
}

/** What is so, in words: for a hand-out. */
export function truthText(words: Words, step: StepWords, ask: Ask, truth: Truth): string {
  switch (truth.kind) {
    case 'choose':
      return choiceText(step, ask, truth.right);
    case 'number':
      return numberText(words, truth.value, ask.kind === 'number' ? ask.unit : '');
    case 'place': {
      const { best, left } = truth;
      const most = valueAt(left.time, left.values, best);
      return words.scores.best(figureText(words, seconds(best)), figureText(words, volts(most)));
    }
    case 'draw':
      return words.scores.asDrawn;
    case 'set': {
      if (ask.kind !== 'set') return '';
      const at: Figure = { value: setValue(ask, truth.index), unit: ask.unit, digits: 3 };
      return words.scores.most(figureText(words, at), figureText(words, volts(truth.most)));
    }
    case 'bits':
      return words.scores.most(
        ask.kind === 'bits' ? bitsText(ask, truth.bits) : '',
        figureText(words, volts(truth.most)),
      );
    case 'board':
      return words.scores.atLeast(figureText(words, volts(truth.need)));
  }
}

const choiceKey = (ask: Ask, place: number): string =>
  ask.kind === 'choose' ? (ask.choices[place] ?? '') : '';

const choiceText = (step: StepWords, ask: Ask, place: number): string =>
  wordFor(step.choices, choiceKey(ask, place)).text;

function drawingText(words: Words, fault: DrawingFault): string {
  const { drawing } = words.scores;
  return fault.code === 'bellEarly' || fault.code === 'bellLate'
    ? drawing[fault.code](figureText(words, seconds(fault.by, 1)))
    : drawing[fault.code];
}
