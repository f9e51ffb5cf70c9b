import type { Constraint, ConstraintCode } from '../estimates/constraints/constraint.ts';
import { coreWords } from './words-core.ts';
import { driveWords } from './words-drive.ts';
import { senseWords } from './words-sense.ts';
import { supplyWords } from './words-supply.ts';

/** What is wrong with its number and its limit, and what to do about it: whole sentences. */
export interface Words {
  readonly message: string;
  readonly remedy: string;
}

type Of<Code extends ConstraintCode> = Extract<Constraint, { readonly code: Code }>;
/** Words for some of the codes. */
export type WordsFor<Code extends ConstraintCode> = {
  readonly [C in Code]: (broken: Of<C>) => Words;
};

const WORDS: WordsFor<ConstraintCode> = { ...coreWords, ...driveWords, ...supplyWords, ...senseWords };

/** A constraint that does not hold, as one sentence and a remedy. */
export const putInWords = (broken: Constraint): Words =>
  (WORDS[broken.code] as (broken: Constraint) => Words)(broken);
