/**
 * The error that a run reports of itself against its true error. Independent route: the same design with four times
 * finer steps and four times the sections. The soak does the same on 200 designs, voltage-driven ones among them.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { randomDesign } from '../random-design.ts';
import { coverage, trueError } from './true-error.ts';

describe('the default settings', () => {
  // N3. Not met, and not tested here: 128 x 128 between edges (0.2 % of one ONE), a balanced 64 x 64 at them (0.6 % of
  // its small peak).
  it.each([
    'minimal',
    'single-core-jig',
    'classroom-board-first-try-4x4',
    'common-practice-8x8',
    'tide-recorder-16x16',
    'tide-recorder-first-try-32x32',
    'carillon-sequencer-64x64',
  ])(
    'of %s are within a thousandth of one ONE between edges and half a hundredth of the peak at them',
    (name) => {
      const file = readFileSync(new URL(`../../fixtures/designs/${name}.json`, import.meta.url), 'utf8');
      const error = trueError(checkDesign(JSON.parse(file)), true);
      expect(error.betweenEdges).toBeLessThan(1e-3 * error.one);
      expect(error.all).toBeLessThan(5e-3 * error.peak);
      for (const times of coverage(error)) expect(times).toBeLessThan(1.25);
    },
  );
});

describe('the reported error', () => {
  // N3: true error at most 1.25 times the reported one in 95 % of random designs. The soak does the same on more, with
  // voltage-driven and lossless ones among them (test/bench/limits.md tells which are missed).
  it('covers the true one in 95 of 100 current-driven designs, between edges and over the whole cycle', () => {
    const designs = 40;
    let all = 0;
    let between = 0;
    for (let seed = 0; seed < designs; seed++) {
      const design = randomDesign(seed, { largest: 6, lossless: false, voltage: false, history: false });
      const [whole, quiet] = coverage(trueError(design, true));
      if (whole <= 1.25) all++;
      if (quiet <= 1.25) between++;
    }
    expect(between / designs).toBeGreaterThanOrEqual(0.95);
    expect(all / designs).toBeGreaterThanOrEqual(0.95);
  });

  // Truth from the other loop, which solves cores with every step of the wire.
  it('covers the true one on long wires, whose cores are moved less often', () => {
    let tried = 0;
    for (let seed = 1000; tried < 8; seed++) {
      const design = randomDesign(seed, { largest: 16, lossless: false, voltage: false });
      if (simulate(design, { estimateError: false }).method.loop !== 'core steps') continue;
      tried++;
      const error = trueError(design, true);
      for (const times of coverage(error)) expect(times, design.name).toBeLessThan(1.25);
      expect(error.run.fluxClosure).toBeLessThan(1e-3);
      expect(Math.abs(error.run.energy.residual)).toBeLessThan(1e-3 * error.run.energy.delivered);
    }
  });
});
