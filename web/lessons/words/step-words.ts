import type { MovedFault } from '../score.ts';

/** What is said of a step, under the keys that its structure names. */
export interface StepWords {
  readonly title: string;
  /** Gives nothing of the answer away. */
  readonly text: string;
  readonly question: string;
  readonly choices?: Readonly<Record<string, ChoiceWords>>;
  /** Why a number, a place or a board is not so, and what to look at. */
  readonly whyNot?: Readonly<Partial<Record<WhyNotKey, string>>>;
  /** What the numbers mean, after the reveal. */
  readonly meaning: string;
  /** Names of the answer's numbers. */
  readonly answers: Readonly<Record<string, string>>;
  /** Names of the lines drawn. */
  readonly traces: Readonly<Record<string, string>>;
}

type WhyNotKey = 'early' | 'late' | MovedFault;

export interface ChoiceWords {
  readonly text: string;
  /** Why it is not so, and what to try: told to whoever chose it in error. */
  readonly whyNot: string;
}

export interface LessonWords {
  readonly title: string;
  readonly steps: Readonly<Record<string, StepWords>>;
}
