import { expect, it } from 'vitest';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { fullProduct } from '../engine/strobe/full-product.ts';
import { randomDesign } from '../random-design.ts';
import { patience, tell } from './figures.ts';

/** V: a case that is worse by less than this may be missed; no figure shows it. */
const ALLOWED = 20e-6;
const DESIGNS = 100;
/** ms of work that this may take; what was left out by then is told. */
const PATIENCE = 240_000;

it(
  'corners of 100 random designs are the full product of cases and corners',
  { timeout: 1_800_000 },
  async () => {
    const patient = patience(PATIENCE);
    const missed: string[] = [];
    let runs = 0;
    let needed = 0;
    let seed = 0;
    while (seed < DESIGNS && patient()) {
      const design = randomDesign(++seed, { largest: 3 });
      const { corners, inForce, cases } = strobeWindow(design, { cases: 'corners' });
      await new Promise((resolve) => setImmediate(resolve));
      if (corners === undefined) continue;
      const all = fullProduct(design, inForce.time);
      runs += all.runs;
      needed += cases.length;
      const one = inForce.threshold + corners.margin.one - all.one;
      const zero = all.zero - (inForce.threshold - corners.margin.zero);
      if (one > ALLOWED || zero > ALLOWED)
        missed.push(`${seed}: ONE ${(one * 1e6).toFixed(0)} µV, ZERO ${(zero * 1e6).toFixed(0)} µV`);
    }
    const share = `${needed} runs for ${runs}`;
    tell(
      'Q1',
      `corners against the full product, ${seed} designs, ${share}`,
      `${missed.length} missed ${missed.join('; ')}`,
      'none of 100',
    );
    expect(seed).toBeGreaterThan(3);
    expect(missed).toEqual([]);
  },
);
