import { expect, it } from 'vitest';
import type { Design } from '../../engine/design/design.ts';
import { caseSpace } from '../../engine/strobe/cases.ts';
import { followedUntil } from '../../engine/strobe/envelope.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { fullProduct } from '../engine/strobe/full-product.ts';
import { coarseDesign, simulateCoarsely } from './coarse-design.ts';
import { tell } from './figures.ts';

/** A worse case may be missed by so many volts, or by this part of what is left at the corners: nobody acts on less. */
const ALLOWED = 50e-6;
const ALLOWED_SHARE = 0.01;
/** Steps of all runs of a full product that are worth waiting for: 5 s or so; greater ones are passed over. */
const MOST_STEPS = 0.5e6;

/** Seeds to try: those whose worst cases an earlier search missed, or FIRST-LAST of SOAK_CORNERS: 61-258 are a hundred that nothing was tuned on (an hour or so). */
function seedsToTry(): readonly number[] {
  const asked = process.env.SOAK_CORNERS;
  if (asked === undefined) return [2, 19, 40];
  const [first, last] = asked.split('-').map(Number);
  return Array.from({ length: last! - first! + 1 }, (_, i) => first! + i);
}

it(
  'corners of random designs are the full product of cases and corners',
  { timeout: 7_200_000 },
  async () => {
    const missed: string[] = [];
    const missedReading: string[] = [];
    const done = { designs: 0, reading: 0, sides: 0, runs: 0, needed: 0, tooLong: 0 };
    for (const seed of seedsToTry()) {
      const design = coarseDesign(seed);
      if (stepsOfProduct(design) > MOST_STEPS) {
        done.tooLong++;
        continue;
      }
      const { corners, inForce, cases, verdict } = strobeWindow(design, {
        cases: 'corners',
        simulate: simulateCoarsely,
      });
      await new Promise((resolve) => setImmediate(resolve));
      if (corners === undefined) continue;
      const all = fullProduct(design, inForce.time, simulateCoarsely);
      const left = corners.margin.left;
      const reads = verdict.sets.corners?.verdict === 'reads';
      done.designs++;
      done.runs += all.runs;
      done.needed += cases.length;
      if (reads) done.reading++;
      const short = {
        ONE: inForce.threshold + corners.margin.one - all.one,
        ZERO: all.zero - (inForce.threshold - corners.margin.zero),
      };
      for (const [side, volts] of Object.entries(short)) {
        done.sides++;
        // What is not a number is not found.
        if (volts <= Math.max(ALLOWED, ALLOWED_SHARE * Math.abs(left))) continue;
        const words = `${seed}: ${side} ${(volts * 1e6).toFixed(0)} µV, left ${(left * 1e3).toFixed(1)} mV`;
        missed.push(words);
        if (reads) missedReading.push(words);
      }
    }
    const { designs, reading, sides, needed, runs, tooLong } = done;
    tell(
      'Q1',
      'corners against the full product',
      `${designs} designs (${tooLong} too long passed over), ${reading} of them read at the corners; ${needed} runs for ${runs}: ${missed.length} of ${sides} sides missed by more than 0.05 mV and 1 % of what is left, ${missedReading.length} of them of designs that read${missed.map((each) => `; ${each}`).join('')}`,
      'none of 100',
    );
    expect(designs).toBeGreaterThan(2);
    // A search falls short to the good side alone: a design that it says fails does fail, and what counts is those that read.
    expect(missedReading).toEqual([]);
  },
);

/** Steps of one run times the runs of both bits. */
function stepsOfProduct(design: Design): number {
  const { patterns, histories, addresses, corners } = caseSpace(design);
  const { method } = simulateCoarsely(design, {
    contributions: false,
    estimateError: false,
    balance: false,
    until: followedUntil(design),
  });
  return method.steps * 2 * patterns.length * histories.length * addresses.length * corners.length;
}
