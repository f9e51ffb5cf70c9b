/** What is wrong with its number and its limit, and what to do about it: whole sentences. */

import type { ConstraintCode, Constraint } from '../estimates/constraints/constraint.ts';

export interface Words {
  readonly message: string;
  readonly remedy: string;
}

export type Of<Code extends ConstraintCode> = Extract<Constraint, { readonly code: Code }>;
/** Words for some of the codes. */
export type WordsFor<Code extends ConstraintCode> = {
  readonly [C in Code]: (broken: Of<C>) => Words;
};
