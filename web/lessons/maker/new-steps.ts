import type { RawDesign } from '../../model/pointer.ts';
import type { OwnAsk, OwnStep } from '../made/lesson.ts';
import type { MadeWords } from '../words/made-words.ts';

/** An empty question on a board; its words are the teacher's to write. */
export const newStep = (w: MadeWords, board: RawDesign): OwnStep => ({
  title: w.maker.freshStep.title,
  text: '',
  question: w.maker.freshStep.question,
  meaning: '',
  board,
  ask: newAsk(w, 'number'),
  covered: [],
  movable: [],
});

/** Instants at which a drawing has its points, unless the teacher says others: close together while the currents rise. */
const POINTS = ['0 ns', '20 ns', '60 ns', '120 ns', '180 ns', '240 ns', '300 ns', '400 ns', '600 ns'];

/** What a question of a kind begins with. */
export function newAsk(w: MadeWords, kind: OwnAsk['kind']): OwnAsk {
  const wrong = { tooLow: '', tooHigh: '' };
  switch (kind) {
    case 'choose':
      return { kind, right: 0, choices: [1, 2].map((k) => ({ text: w.maker.choice(k), whyNot: '' })) };
    case 'number':
      return { kind, measure: 'bell', within: 10, ...wrong };
    case 'place':
      return { kind, moved: 'strobe', least: '5 mV', ...wrong };
    case 'set':
      return {
        kind,
        name: w.maker.currents,
        pointers: [
          '/drive/x/readAmplitude',
          '/drive/x/writeAmplitude',
          '/drive/y/readAmplitude',
          '/drive/y/writeAmplitude',
        ],
        unit: 'A',
        from: '320 mA',
        to: '420 mA',
        places: 11,
        measure: 'left',
        sense: 'atLeast',
        target: '5 mV',
        ...wrong,
      };
    case 'draw':
      return { kind, curve: 'one', at: POINTS, most: '160 mV', within: '10 mV', whyNot: {} };
  }
}
