import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { SET_NAMES, type DesignRequirement } from '../../engine/design/requirement.ts';
import { decide, judge, judgeCore, worseOf } from '../../engine/strobe/verdict.ts';
import type { SetVerdicts } from '../../engine/strobe/verdict-of-sets.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import { readRequirement, shortfalls } from '../../server/commands/requirement.ts';

const DEFAULTS = checkDesign({});
const OWN: DesignRequirement = {
  ...DEFAULTS.requirement,
  margin: 5e-3,
  width: 20e-9,
  sets: ['nominal', 'corners'],
};

describe('what --require asks for', () => {
  it.each([
    [['design'], { margin: 5e-3, width: 20e-9, sets: ['nominal', 'corners'] }],
    [['parts'], { margin: 5e-3, width: 20e-9, sets: ['parts'] }],
    [['20 mV'], { margin: 20e-3, width: 0, sets: ['nominal', 'corners'] }],
    [['nominal', '1 uV', '30 ns'], { margin: 1e-6, width: 30e-9, sets: ['nominal'] }],
    // All of it together: what is asked for twice is asked for as far as the greater says, whatever comes last.
    [['20 mV', '1 mV'], { margin: 20e-3, width: 0, sets: ['nominal', 'corners'] }],
    [['design', '1 mV'], { margin: 5e-3, width: 20e-9, sets: ['nominal', 'corners'] }],
    [['design', 'nominal'], { margin: 5e-3, width: 20e-9, sets: ['nominal', 'corners'] }],
    [['design', 'parts'], { margin: 5e-3, width: 20e-9, sets: ['nominal', 'corners', 'parts'] }],
  ])('%j', (words, wanted) => {
    expect(readRequirement(words, OWN)).toMatchObject(wanted);
  });

  it.each(['-5 mV', '-1 ns', '20', 'corner', ''])('%j is refused', (word) => {
    expect(() => readRequirement([word], OWN)).toThrow(/^--require must be design, a set of cases/u);
  });
});

const OVER_BUDGET = {
  code: 'supply-current',
  field: '/supply/budget',
  used: 1.8,
  limit: 1.5,
  unit: 'A',
  excess: 0.2,
} as const;

describe('the exit status of --require', () => {
  const volts = fc.constantFrom(-1e-3, 0, 4e-3, 5e-3, 6e-3, 20e-3);
  const seconds = fc.constantFrom(0, 10e-9, 20e-9, 50e-9);
  const drawn = fc.record({
    nominal: fc.tuple(volts, seconds),
    corners: fc.option(fc.tuple(volts, seconds)),
    heat: fc.option(volts),
    core: fc.option(volts),
    finely: fc.boolean(),
    limits: fc.constantFrom([], [OVER_BUDGET]),
    asked: fc.uniqueArray(fc.constantFrom(...SET_NAMES.filter((name) => name !== 'parts')), { minLength: 1 }),
  });

  /** The sets as a window judges them. */
  function setsOf({
    nominal,
    corners,
    heat,
    core,
    finely,
  }: typeof drawn extends fc.Arbitrary<infer T> ? T : never) {
    const side = { side: 'one', case: 'ONE, all zeros' } as const;
    const margin = ([left, width]: [number, number]) => {
      const has = { margin: left, width };
      return { ...has, ...side, verdict: judge(has, OWN) };
    };
    const at = corners && margin(corners);
    const blind = at !== null && heat !== null && heat < at.margin;
    return {
      nominal: margin(nominal),
      corners: blind
        ? {
            ...at,
            verdict: worseOf(at.verdict, judge({ ...at, margin: heat }, OWN)),
            unknownTemperature: heat,
          }
        : at,
      parts: null,
      core:
        core === null
          ? null
          : { verdict: judgeCore({ low: core }, OWN), low: core, high: 1, worst: null, measureNext: null },
      numbers: { verdict: finely ? 'reads' : 'short', error: 1e-6 },
    } satisfies SetVerdicts;
  }

  it('agrees with the verdict that is printed above it: met where all that is asked for is there and reads', () => {
    fc.assert(
      fc.property(drawn, (item) => {
        const verdict = decide(setsOf(item), item.asked, item.limits);
        const design = { ...DEFAULTS, requirement: { ...OWN, sets: item.asked } };
        const wanted = readRequirement(['design'], design.requirement)!;
        const short = shortfalls(design, { verdict } as StrobeWindow, wanted);
        expect(short.length === 0).toBe(verdict.design === 'reads' && verdict.missing.length === 0);
        for (const sentence of short) expect(sentence).toMatch(/^Not met: [^\n]+[^.]\.$/u);
        // Of whatever is asked, a build that its supply does not allow has none.
        const some = shortfalls(design, { verdict } as StrobeWindow, readRequirement(['1 uV'], OWN)!);
        expect(some.at(-1) === 'Not met: Limits: average current of the supply: 1.8 A of 1.5 A.').toBe(
          item.limits.length > 0,
        );
      }),
      { numRuns: 2000 },
    );
  });
});
