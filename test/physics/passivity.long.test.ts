/**
 * No design gives energy out of a closed loop: when cores, wires and lines end a cycle as they began it, sources have
 * given energy, and every part has taken some. Derived (the second law); random designs, invented throughout.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { anyDesign } from '../random-design.ts';

/** The same read and restore over and over, the last of which is observed: its states close upon themselves. */
const closed = (d: Design): Design => {
  const { row, column } = d.selected;
  const cycle = { row, column, lines: 'both', read: true, write: 'restore' } as const;
  return { ...d, programme: Array.from({ length: 4 }, () => cycle) };
};

/** A, more than any core here is driven with: what an open loop can hold at most for each weber that it does not close. */
const MOST_DRIVE = 1;

/** Runs the closed cycle and holds its accounts against the second law. @returns whether the addressed core's loop closed */
function expectPassive(d: Design): boolean {
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

describe('passivity', () => {
  it('holds for any design over a cycle that closes: work in, heat and loops positive, nothing stored', () => {
    const runs = 25;
    let loops = 0;
    fc.assert(
      fc.property(anyDesign({ largest: 4, lossless: false }), (d) => {
        if (expectPassive(d)) loops++;
      }),
      { numRuns: runs },
    );
    expect(loops).toBeGreaterThan(runs / 3);
  });
});
