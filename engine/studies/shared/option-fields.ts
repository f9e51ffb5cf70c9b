import * as z from 'zod';
import { choice, count, received } from '../../design/schema/fields.ts';
import { findInput, INPUT_CHOICES, type StudyInput } from './inputs.ts';
import { STUDY_CASES } from './reading.ts';

/** Options that several kinds of study take, and builders for theirs; the others are fields as a design has them. */

export const seedOption = count({
  from: 0,
  to: Number.MAX_SAFE_INTEGER,
  is: 'Seed of what is drawn; the answer repeats it.',
}).prefault(1);

export const casesOption = choice(
  STUDY_CASES,
  "Runs that stand for a design: its winding's six worst, or also the given pattern and the opposites (16).",
).prefault('worst');

export const STROBES = ['fixed', 'best'] as const;

/** An option left out: `words` says what the study then does. */
export const leftOut = <T extends z.ZodType>(field: T, words: string): z.ZodOptional<T> =>
  field.optional().meta({ 'x-default': words });

/** The name of an input (`drive.x`) or the JSON pointer of a field, as the input itself. */
export const inputName = (is: string): z.ZodType<StudyInput, string> =>
  z
    .string({ error: ({ input }) => refusal(input) })
    .transform((key, context): StudyInput => {
      const found = findInput(key);
      if (found) return found;
      context.issues.push({ code: 'custom', message: refusal(key), input: key });
      return z.NEVER;
    })
    .meta({ description: is, 'x-kind': 'text', 'x-range': INPUT_CHOICES });

const refusal = (input: unknown): string =>
  `must be ${INPUT_CHOICES}, but ${received(input)}; name an input that a design has`;
