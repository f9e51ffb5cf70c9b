import type { Evaluated, Refusal } from './evaluated.ts';
import type { OwnAsk } from './lesson.ts';
import { gotText, measured, placeText, placeUnit, truthText, volts } from './say.ts';
import type { MadeWords } from '../words/made-words.ts';
import { plainNumber, quantityText } from '../words/say.ts';

/** Why a question cannot be answered, for its maker. */
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
