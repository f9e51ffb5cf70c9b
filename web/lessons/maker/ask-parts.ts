import { MEASURES, type Measure, type OwnAsk } from '../made/lesson.ts';
import type { MadeWords } from '../words/made-words.ts';

/** A question's way of being answered, and what takes a change of it. */
export interface AskEditor<A extends OwnAsk> {
  readonly w: MadeWords;
  readonly ask: A;
  readonly onSet: (ask: OwnAsk) => void;
}

/** All that the engine can be asked, as a list of choices. */
export const measureOptions = (w: MadeWords): readonly (readonly [Measure, string])[] =>
  (Object.keys(MEASURES) as Measure[]).map((name) => [name, w.measures[name]]);
