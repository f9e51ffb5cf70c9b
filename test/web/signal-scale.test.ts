import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketKey } from '../../web/stage/trace/cycle-bracket.ts';
import { rungFor, spanOnRung } from '../../web/stage/trace/signal-scale.ts';

const size = fc.double({ min: 1e-5, max: 2, noNaN: true });

describe('the scale of the signal', () => {
  it('stands on a rung that what is wanted fills to between 55 and 95 %', () => {
    fc.assert(
      fc.property(size, fc.option(size, { nil: undefined }), (up, before) => {
        const filled = up / rungFor({ up, down: 0 }, before);
        expect(filled).toBeGreaterThanOrEqual(0.55 - 1e-9);
        expect(filled).toBeLessThanOrEqual(0.95 + 1e-9);
      }),
    );
  });

  it('keeps its rung while what it shows grows and shrinks a little, and takes the next when it does not fit', () => {
    const first = rungFor({ up: 36e-3, down: 0 }, undefined);
    expect(first).toBeCloseTo(40e-3, 12);
    for (const up of [37.9e-3, 30e-3, 22.1e-3]) expect(rungFor({ up, down: 0 }, first)).toBe(first);
    expect(rungFor({ up: 38.1e-3, down: 0 }, first)).toBeCloseTo(40e-3 * Math.SQRT2, 12);
    expect(rungFor({ up: 21.9e-3, down: 0 }, first)).toBeLessThan(first);
  });

  it('holds all that is wanted on either side of zero, on few axes', () => {
    fc.assert(
      fc.property(size, size, (up, down) => {
        const rung = rungFor({ up, down }, undefined);
        const { low, high } = spanOnRung(rung, { up, down });
        expect(high).toBeGreaterThanOrEqual(up);
        expect(-low).toBeGreaterThanOrEqual(down);
        expect([0.12, 0.5, 1]).toContain(Number((Math.min(high, -low) / rung).toFixed(9)));
      }),
    );
  });
});

describe('the bracket of the cycle', () => {
  const cycle = { from: 0, to: 4e-6 };
  const span = { from: 1e-6, to: 2e-6 };
  const key = (name: string, shiftKey = false) => bracketKey({ key: name, shiftKey }, span, cycle)!;

  it('moves by arrows and keeps its width, to the ends and never beyond', () => {
    expect(key('ArrowRight').from).toBeCloseTo(1.1e-6, 15);
    expect(key('ArrowLeft').to).toBeCloseTo(1.9e-6, 15);
    expect(key('PageDown')).toEqual({ from: 0, to: 1e-6 });
    expect(key('End').to).toBe(4e-6);
    expect(bracketKey({ key: 'x', shiftKey: false }, span, cycle)).toBeUndefined();
  });

  it('with Shift moves its end alone, which stays after its beginning', () => {
    expect(key('ArrowRight', true)).toEqual({ from: 1e-6, to: 2.1e-6 });
    const drawn = bracketKey({ key: 'PageDown', shiftKey: true }, { from: 1e-6, to: 1.01e-6 }, cycle)!;
    expect(drawn.to - drawn.from).toBeCloseTo(20e-9, 15);
  });
});
