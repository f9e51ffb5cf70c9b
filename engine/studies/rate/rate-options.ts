import type * as z from 'zod';
import { cyclePeriod } from '../../design/schema/cycle.ts';
import { choice, count, optionalQuantity, ratio, record } from '../../design/schema/fields.ts';
import { leftOut, seedOption, STROBES } from '../shared/option-fields.ts';
import { STUDY_CASES } from '../shared/reading.ts';

export const rateOptions = record('What running faster costs, and the highest rate.', {
  seed: seedOption,
  from: leftOut(
    optionalQuantity({ ...cyclePeriod, example: '2 us', is: 'Shortest period, or the highest rate.' }),
    "a quarter of the design's own period, or what its pulses allow",
  ),
  to: leftOut(
    optionalQuantity({ ...cyclePeriod, example: '250 kHz', is: 'Longest period, or the lowest rate.' }),
    "twice the design's own period",
  ),
  steps: count({ from: 2, to: 101, is: 'Periods between the two, evenly by their ratio.' }).prefault(9),
  fraction: ratio({
    from: 0.001,
    to: 1,
    is: 'Share of the threshold under which the sense wire has recovered after a write.',
  }).prefault(0.1),
  history: count({
    from: 1,
    to: 16,
    is: "Inhibited cycles before the read; a window's cases have histories of their own.",
  }).prefault(2),
  strobe: choice(STROBES, 'The strobe of the design as it stands, or the best at each period.').prefault(
    'fixed',
  ),
  cases: choice(
    ['window', ...STUDY_CASES],
    'All cases of a strobe window as designed, or the few (6 or 16) of other studies.',
  ).prefault('window'),
});

/** Complete: periods in s; what went before endless cycles, as the design says, null where it does not. */
export type RateOptions = Omit<z.output<typeof rateOptions>, 'seed' | 'from' | 'to'> & {
  readonly from: number;
  readonly to: number;
  readonly inhibitedShare: number | null;
};
