/**
 * Lines whose current dies, by a clamp, where no pulse says when: the instant must not move with the step, or a kink lies
 * elsewhere in every run and none of them knows its error. Truth: four times the steps and sections.
 */
import { expect, it } from 'vitest';
import { randomDesign } from '../random-design.ts';
import { coverage, trueError } from './true-error.ts';

// Those that the error told missed by 2.2 to 6.1 times, and one that left 7.6 % of its energy, when a current was taken to
// die where two values before let expect it.
it.each([1008, 1058, 1127, 1155, 1177])(
  'die at one instant whatever the step, and the error told holds: seed %d',
  (seed) => {
    const error = trueError(randomDesign(seed), true);
    for (const times of coverage(error)) expect(times).toBeLessThan(1.25);
    expect(Math.abs(error.run.energy.residual)).toBeLessThan(1e-3 * error.run.energy.delivered);
    expect(error.run.fluxClosure).toBeLessThan(1e-3);
  },
);
