import type { Step } from '../step.ts';
import type { en } from './en/en.ts';

/** What is said of a step, under the keys that its structure names. */
export interface StepWords {
  readonly title: string;
  /** Gives nothing of the answer away. */
  readonly text: string;
  readonly question: string;
  readonly choices?: Readonly<Record<string, ChoiceWords>>;
  /** Why a number or a place is not so, and what to look at. */
  readonly whyNot?: Readonly<Partial<Record<'low' | 'high' | 'early' | 'late', string>>>;
  /** What the numbers mean, after the reveal. */
  readonly meaning: string;
  /** Names of the answer's numbers. */
  readonly answers: Readonly<Record<string, string>>;
  /** Names of the lines drawn. */
  readonly traces: Readonly<Record<string, string>>;
}

export interface ChoiceWords {
  readonly text: string;
  /** Why it is not so, and what to try: told to whoever chose it in error. */
  readonly whyNot: string;
}

export interface LessonWords {
  readonly title: string;
  readonly steps: Readonly<Record<string, StepWords>>;
}

/** All that Learn and Words say, in one language. English is its shape: a text that another leaves out is an error. */
export type Words = Wide<typeof en>;

export type Wide<T> = T extends string
  ? string
  : T extends (...args: infer A) => string
    ? (...args: A) => string
    : { readonly [K in keyof T]: Wide<T[K]> };

/** A step and what is said of it in the reader's language. */
export interface ToldStep {
  readonly step: Step;
  readonly told: StepWords;
  readonly words: Words;
}
