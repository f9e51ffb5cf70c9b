import type * as z from 'zod';
import { count, flag, record } from '../../design/schema/fields.ts';
import { casesOption, seedOption } from '../shared/option-fields.ts';

export const patternOptions = record('Which stored data hurt.', {
  seed: seedOption,
  random: count({ from: 0, to: 100, is: 'Random patterns.' }).prefault(4),
  marches: flag('March programmes too.').prefault(true),
  marchCycles: count({ from: 1, to: 255, is: 'Cycles of a march before the read, at most.' }).prefault(32),
  wholeMat: flag('Every address of the mat under its worst patterns too.').prefault(false),
  cases: casesOption,
});

export type PatternOptions = Omit<z.output<typeof patternOptions>, 'seed'>;
