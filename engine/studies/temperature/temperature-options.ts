import type * as z from 'zod';
import { count, optionalQuantity, quantity, ratio, record } from '../../design/schema/fields.ts';
import { casesOption, leftOut, seedOption } from '../shared/option-fields.ts';

const celsius = { unit: '°C', from: '-60 degC', to: '125 degC' } as const;

export const temperatureOptions = record('Margin over temperature, and the region of drive that works.', {
  seed: seedOption,
  from: quantity('0 degC', { ...celsius, is: 'Lowest temperature.' }),
  to: quantity('60 degC', { ...celsius, is: 'Highest temperature.' }),
  steps: count({ from: 2, to: 101, is: 'Temperatures between the two, evenly.' }).prefault(7),
  coefficient: leftOut(
    optionalQuantity({
      unit: '1/K',
      from: '-2 %/K',
      to: '1 %/K',
      example: '-0.3 %/K',
      is: 'How the tracking drive changes with temperature.',
    }),
    "that of the core's thresholds",
  ),
  driveFrom: ratio({
    from: 0.2,
    to: 0.99,
    is: 'Least drive tried, as a share of the nominal one.',
  }).prefault(0.7),
  driveTo: ratio({ from: 1.01, to: 3, is: 'Most drive tried, as a share of the nominal one.' }).prefault(1.4),
  coarse: count({ from: 2, to: 50, is: 'Drives tried before the ends are halved to.' }).prefault(8),
  cases: casesOption,
});

/** Complete: temperatures in °C, the coefficient a share per kelvin. */
export type TemperatureOptions = Omit<z.output<typeof temperatureOptions>, 'seed' | 'coefficient'> & {
  readonly coefficient: number;
};
