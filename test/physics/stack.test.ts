import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWord, supplyCurve, wordDependence } from '../../engine/channel/stack.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { cycleEnd } from '../../engine/check/rules-drive.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import type { Design } from '../../engine/design/design.ts';
import { highestRate } from '../../engine/estimates/build-numbers.ts';
import { shortestCycle } from '../../engine/estimates/cycle-limits.ts';
import { cycleCharge, supplyCurrent } from '../../engine/estimates/supply-needs.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';

const rig = JSON.parse(
  readFileSync(new URL('../../fixtures/designs/supply-rig-first-try-8x8x8.json', import.meta.url), 'utf8'),
) as { cycle: object };
const at = (period: string): Design =>
  checkDesign({ ...rig, cycle: { ...rig.cycle, period }, numerics: { output: '5 ns' } });

/** Common practice, no source: A drawn by a one-address rig with one inhibit pulse a cycle, at Hz. */
const DRAWN = [
  [2e3, 44e-3],
  [50e3, 150e-3],
  [100e3, 250e-3],
] as const;
/** Common practice, no source: about so much less without the inhibit at the two higher rates, A. */
const WITHOUT_INHIBIT = 20e-3;
/** Common practice, no source: A that the supply of the full stack may give. */
const BUDGET = 1.5;

describe('supply of the rig (common practice, no source)', () => {
  const design = at('10 us');

  it('is a straight line in rate through what was drawn, within 5 %', () => {
    for (const [rate, drawn] of DRAWN)
      expect(Math.abs(supplyCurrent(design, rate, 1) / drawn - 1), `${rate} Hz`).toBeLessThan(0.05);
    // What was drawn lies on a line itself: the middle value against the line through the ends.
    const [[r0, i0], [r1, i1], [r2, i2]] = DRAWN;
    expect(Math.abs((i0 + ((i2 - i0) * (r1 - r0)) / (r2 - r0)) / i1 - 1)).toBeLessThan(0.05);
  });

  it('has an inhibit share of rate times amplitude times width, of the size that was seen', () => {
    const { inhibit } = cycleCharge(design, 1);
    // 340 mA from 50 ns before a write of 600 ns to 50 ns after it.
    expect(inhibit).toBeCloseTo(0.34 * 700e-9, 12);
    for (const rate of [50e3, 100e3]) {
      const share = supplyCurrent(design, rate, 1) - supplyCurrent(design, rate, 0);
      expect(share).toBeCloseTo(rate * inhibit, 9);
      expect(share).toBeGreaterThan(WITHOUT_INHIBIT / 2);
      expect(share).toBeLessThan(WITHOUT_INHIBIT * 1.5);
    }
  });

  it('stays under the budget for the full stack of eight mats with all bits ZERO at 100 kHz', () => {
    const full = supplyCurrent(design, 100e3);
    expect(full).toBe(supplyCurrent(design, 100e3, 8));
    expect(full).toBeLessThan(BUDGET);
    expect(full).toBeGreaterThan(supplyCurrent(design, 100e3, 7));
    expect(design.supply.budget).toBe(BUDGET);
  });
});

describe('rate of the rig (common practice, no source)', () => {
  it('reads the same from 2 to 100 kHz', () => {
    const value = (period: string): number => {
      const design = at(period);
      const { row, column } = design.selected;
      const elsewhere = { row: (row + 1) % 8, column: (column + 1) % 8 };
      const run = simulate(
        {
          ...design,
          programme: [
            { ...elsewhere, lines: 'both', read: true, write: 'zero' },
            { row, column, lines: 'both', read: true, write: 'restore' },
          ],
        },
        { contributions: false, estimateError: false },
      );
      return run.strobe.value;
    };
    const slow = value('500 us');
    for (const period of ['20 us', '10 us'])
      expect(Math.abs(value(period) - slow)).toBeLessThan(1e-3 * Math.abs(slow));
    expect(strobeWindow(at('10 us'), { cases: 'quick' }).strobe).toBeDefined();
  });

  it('is out of cycle time at 200 kHz: a cycle needs more than 5 us, and the design is refused by name', () => {
    expect(shortestCycle(at('10 us'))).toBeGreaterThan(5e-6);
    expect(cycleEnd(at('10 us'))).toBeGreaterThan(5e-6);
    expect(highestRate(at('10 us'))).toBeGreaterThan(100e3);
    expect(highestRate(at('10 us'))).toBeLessThan(200e3);
    let refusal: unknown;
    try {
      at('5 us');
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(DesignError);
    expect((refusal as DesignError).field).toBe('/cycle/period');
    expect(supplyCurve(at('10 us'), [2e3, 50e3, 100e3, 200e3]).map(({ inTime }) => inTime)).toEqual([
      true,
      true,
      true,
      false,
    ]);
  });
});

describe('words of a stack', () => {
  it('come back as they were written', () => {
    const word = [1, 0, 0, 1, 1, 0, 1, 0] as const;
    const found = readWord(at('10 us'), word, simulate);
    expect(found.read).toEqual(word);
    for (const plane of found.planes)
      expect(plane.atStrobe > at('10 us').detector.threshold).toBe(plane.bit === 1);
    expect(() => readWord(at('10 us'), [1, 0], simulate)).toThrow(/one bit a mat, 8 here, but has 2/u);
  });

  it('do not matter to current sources', () => {
    const { fixed, ones, current } = wordDependence(at('10 us'), simulate);
    expect(fixed).toBe(true);
    expect(ones).toEqual([0, 8]);
    expect(current[0]).toBe(current[1]);
  });

  it('slow voltage-driven lines with every ONE that switches in another mat, the less the stiffer the source', () => {
    const driven = (volt: number): ReturnType<typeof wordDependence> => {
      const source = { kind: 'voltage', voltage: `${volt} V`, resistance: `${volt / 0.37 - 1} ohm` };
      const raw = { ...rig, drive: { x: { source }, y: { source } } };
      return wordDependence(checkDesign(raw), simulate);
    };
    const soft = driven(10);
    const stiff = driven(40);
    // From one ONE on, the plane that is looked at holds one; more ONEs take more of its current.
    const currents = soft.current.slice(1);
    for (let k = 1; k < currents.length; k++) expect(currents[k]).toBeLessThan(currents[k - 1]);
    const droop = ({ current }: typeof soft): number => current[1] - current.at(-1)!;
    expect(droop(soft) / droop(stiff)).toBeGreaterThan(3);
  });
});
