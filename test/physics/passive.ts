import { expect } from 'vitest';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';

/** The same read and restore over and over, the last of which is observed: its states close upon themselves. */
const closed = (d: Design): Design => {
  const { row, column } = d.selected;
  const cycle = { row, column, lines: 'both', read: true, write: 'restore' } as const;
  return { ...d, programme: Array.from({ length: 4 }, () => cycle) };
};

/** A, more than any core here is driven with: what an open loop can hold at most for each weber that it does not close. */
const MOST_DRIVE = 1;

/** Runs the closed cycle and holds its accounts against the second law. @returns whether the addressed core's loop closed */
export function expectPassive(d: Design): boolean {
  const { energy, outcome, selected } = simulate(closed(d), { estimateError: false, contributions: false });
  expect(outcome.kind).toBe('done');
  // A core that the drive hardly switches creeps on for many cycles: its loop is open by so much.
  const drift = Math.abs(selected.state.at(-1)! - selected.state[0]!);
  const slack = 1e-3 * energy.delivered + MOST_DRIVE * d.mat.mats * drift;
  expect(energy.source).toBeGreaterThan(-slack);
  expect(energy.resistive).toBeGreaterThanOrEqual(0);
  expect(energy.cores).toBeGreaterThan(-slack);
  expect(Math.abs(energy.stored)).toBeLessThan(1e-3 * energy.delivered);
  return drift < 1e-3 * d.core.parameters.remanentFlux;
}
