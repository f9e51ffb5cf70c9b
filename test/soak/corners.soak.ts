import { expect, it } from 'vitest';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { caseSpace } from '../../engine/strobe/cases.ts';
import { followedUntil } from '../../engine/strobe/envelope.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { fullProduct } from '../engine/strobe/full-product.ts';
import { randomDesign } from '../random-design.ts';
import { patience, tell } from './figures.ts';

/** V: a case that is worse by less than this may be missed; no figure shows it. */
const ALLOWED = 20e-6;
const DESIGNS = 100;
/** Looked at first: what was missed once. */
const MISSED_ONCE = [18, 58];
/** Steps of all runs of a full product that are worth waiting for: a 2 x 2 of 1,100 steps; greater ones are passed over. */
const MOST_STEPS = 2.6e6;
/** ms of work that this may take; what was left out by then is told. */
const PATIENCE = 120_000;

it(
  'corners of 100 random designs are the full product of cases and corners',
  { timeout: 1_800_000 },
  async () => {
    const patient = patience(PATIENCE);
    const missed: string[] = [];
    let runs = 0;
    let needed = 0;
    const seeds = seedsToTry();
    let designs = 0;
    let tooLong = 0;
    while (designs < DESIGNS && patient()) {
      const seed = seeds.next().value;
      const design = randomDesign(seed, { largest: 3 });
      if (stepsOfProduct(design) > MOST_STEPS) {
        tooLong++;
        continue;
      }
      designs++;
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
      'corners against the full product',
      `${designs} designs (${tooLong} too long passed over), ${share}: ${missed.length} missed${missed.map((each) => ` ${each}`).join(';')}`,
      'none of 100',
    );
    expect(designs).toBeGreaterThan(3);
    expect(missed).toEqual([]);
  },
);

/** Without end. */
function* seedsToTry(): Generator<number, never> {
  yield* MISSED_ONCE;
  for (let seed = 1; ; seed++) if (!MISSED_ONCE.includes(seed)) yield seed;
}

/** Steps of one run times the runs of both bits. */
function stepsOfProduct(design: Design): number {
  const { patterns, histories, addresses, corners } = caseSpace(design);
  const { method } = simulate(design, {
    contributions: false,
    estimateError: false,
    balance: false,
    until: followedUntil(design),
  });
  return method.steps * 2 * patterns.length * histories.length * addresses.length * corners.length;
}
