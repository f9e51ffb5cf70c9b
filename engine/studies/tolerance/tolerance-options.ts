import type * as z from 'zod';
import { choice, count, flag, record } from '../../design/schema/fields.ts';
import { casesOption, leftOut, seedOption } from '../shared/option-fields.ts';
import { MOST_DRAWS } from './draw.ts';
import { BEFORE, type Before, type Reads } from './read.ts';
import type { StackRules } from './stack.ts';

export const toleranceOptions = record('Yield of parts as they come.', {
  seed: seedOption,
  draws: count({ from: 2, to: MOST_DRAWS, is: 'Builds drawn.' }).prefault(1000),
  stack: flag('Yield of the whole stack too.').prefault(true),
  worst: count({ from: 1, to: 1000, is: 'Worst builds that are listed to open.' }).prefault(10),
  cases: casesOption,
  before: leftOut(
    choice(
      BEFORE,
      "What goes before the read: the core's own inhibited write, a whole inhibited cycle, or nothing.",
    ),
    'core, or cycle where a line is driven by a voltage',
  ),
});

/** Complete: with the cases each bit is read in and the rules of the stack, found when planning. */
export type ToleranceOptions = Omit<z.output<typeof toleranceOptions>, 'seed' | 'before'> & {
  readonly before: Before;
  readonly reads: Reads;
  readonly rules: StackRules | null;
};
