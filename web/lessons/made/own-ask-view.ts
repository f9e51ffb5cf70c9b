import type { Coded } from './answer-code.ts';
import type { Evaluated } from './evaluated.ts';
import type { OwnStep } from './lesson.ts';
import type { MadeWords } from '../words/made-words.ts';

/** Where a question of one's own is answered. */
export interface OwnAskView {
  readonly node: HTMLElement;
  readonly given: () => Coded | { readonly missing: string };
}

export interface OwnAskOptions {
  readonly w: MadeWords;
  readonly step: OwnStep;
  /** Unique on the page. */
  readonly id: string;
  /** What a slider is moved over; comes once it is computed. */
  readonly evaluated: Promise<Evaluated | undefined>;
}
