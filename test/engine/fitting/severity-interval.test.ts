import { expect, test } from 'vitest';
import { severityInterval } from '../../../engine/fitting/diagnosis/severity-interval.ts';

const lies = (severity: number, chiSquare: number) => ({
  severity,
  chiSquare,
  stiff: chiSquare,
  strain: 0,
  lies: [],
});

test('the interval of a severity ends where chi-square has risen by 3.84, over what is left where that is more than noise', () => {
  // Chi-square of a number that is 3 with a standard deviation of 0.5, over a floor of 100.
  const known = [0, 1, 2, 2.5, 2.8, 3, 3.3, 3.6, 4.5, 6].map((at) => lies(at, 100 + ((at - 3) / 0.5) ** 2));
  const best = known[5]!;
  const told = severityInterval(known, best, 1);
  expect(told.low).toBeCloseTo(3 - 1.96 * 0.5, 2);
  expect(told.high).toBeCloseTo(3 + 1.96 * 0.5, 2);
  const wider = severityInterval(known, best, 4);
  expect(wider.high - wider.low).toBeCloseTo(2 * (told.high - told.low), 2);
});

test('where chi-square does not rise so far, the end of what was tried is told', () => {
  const flat = [1, 2, 3].map((at) => lies(at, 50 + 0.1 * (at - 2) ** 2));
  expect(severityInterval(flat, flat[1]!, 1)).toEqual({ low: 1, high: 3 });
});
