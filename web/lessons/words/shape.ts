import type { Step } from '../step.ts';
import type { en } from './en/en.ts';
import type { StepWords } from './step-words.ts';

/** All that Learn and Words say, in one language. English is its shape: a text that another leaves out is an error. */
export type Words = Wide<typeof en>;

type Wide<T> = T extends string
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
