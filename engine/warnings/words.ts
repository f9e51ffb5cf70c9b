import type { Constraint, ConstraintCode } from '../estimates/constraints/constraint.ts';
import { coreWords } from './words-core.ts';
import { driveWords } from './words-drive.ts';
import type { Words, WordsFor } from './words-for.ts';
import { senseWords } from './words-sense.ts';
import { supplyWords } from './words-supply.ts';

const WORDS: WordsFor<ConstraintCode> = { ...coreWords, ...driveWords, ...supplyWords, ...senseWords };

/** A constraint that does not hold, as one sentence and a remedy. */
export const putInWords = (broken: Constraint): Words =>
  (WORDS[broken.code] as (broken: Constraint) => Words)(broken);
