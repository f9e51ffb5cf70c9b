import type * as z from 'zod';
import { choice, list, ratio, record } from '../../design/schema/fields.ts';
import { casesOption, inputName, leftOut, seedOption, STROBES } from '../shared/option-fields.ts';

export const sensitivityOptions = record('Each input moved a little either way, ranked by its effect.', {
  seed: seedOption,
  step: ratio({
    from: 0.01,
    to: 20,
    is: 'How far each input is moved either way, in per cent; temperatures in kelvins, strobe and stagger in ns.',
  }).prefault(1),
  strobe: choice(STROBES, 'The strobe of the design as it stands, or the best after each move.').prefault(
    'fixed',
  ),
  cases: casesOption,
  inputs: leftOut(
    list(inputName('An input.'), 1, 60, 'Inputs to move.'),
    'nineteen that builders turn first',
  ),
});

/** Complete: inputs by their names. */
export type SensitivityOptions = Omit<z.output<typeof sensitivityOptions>, 'seed' | 'inputs'> & {
  readonly inputs: readonly string[];
};
