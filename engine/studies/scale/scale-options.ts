import * as z from 'zod';
import { choice, flag, list, received, record } from '../../design/schema/fields.ts';
import { LARGEST_SIDE } from '../../design/schema/mat.ts';
import { casesOption, leftOut, seedOption, STROBES } from '../shared/option-fields.ts';

/** Side of the largest mat that is tried unasked, and of the largest that the search for the largest tries. */
export const LARGEST = 128;

const SIZES: readonly (number | [number, number])[] = [4, 8, 16, 32, 64, LARGEST];

const WINDINGS = [
  'shared-one-run',
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
] as const;

const error = ({ input }: { readonly input?: unknown }): string =>
  `must be a side or [rows, columns] from 2 to ${LARGEST_SIDE}, but ${received(input)}; write for example 16 or [16, 32]`;
const side = z.number({ error }).int({ error }).min(2, { error }).max(LARGEST_SIDE, { error });

/** A mat: one number for a square. */
const size = z
  .union([side, z.tuple([side, side], { error })], { error })
  .transform((given): readonly [number, number] => (typeof given === 'number' ? [given, given] : given))
  .meta({ 'x-range': `a side or [rows, columns] from 2 to ${LARGEST_SIDE}` });

export const scaleOptions = record(
  'How a build grows: mat size times winding, and the largest mat of each.',
  {
    seed: seedOption,
    sizes: list(size, 1, 40, 'Mats: a side, or rows and columns.').prefault([...SIZES]),
    windings: list(choice(WINDINGS, 'A winding.'), 1, WINDINGS.length, 'Windings to compare.').prefault([
      ...WINDINGS,
    ]),
    strobe: choice(STROBES, 'The best strobe of each mat, or that of the design as it stands.').prefault(
      'best',
    ),
    threshold: leftOut(
      choice(['best', 'held'], 'The best threshold of each mat, or that of the design as it stands.'),
      'best, or held where the strobe is fixed',
    ),
    cases: casesOption,
    largest: flag('Seek the largest square mat of each winding too.').prefault(true),
  },
);

export type ScaleOptions = Omit<z.output<typeof scaleOptions>, 'seed' | 'threshold'> & {
  readonly threshold: 'best' | 'held';
};
