import { describe, expect, it } from 'vitest';
import { advise } from '../../../engine/advice/advice.ts';
import { applyChange } from '../../../engine/advice/changes.ts';
import { measure, small } from './small-mat.ts';
const mV = 1e-3;

describe('what to change', () => {
  it('tells how far it is, part by part, and ends on the part before the last', () => {
    const told: [number, number, string][] = [];
    advise(small, { wanted: { margin: 1, width: 0 }, trials: 1, onProgress: (...at) => told.push(at) });
    const total = told[0]![1];
    expect(told.map(([done]) => done)).toEqual(Array.from({ length: total }, (_, i) => i));
    expect(told.at(-1)).toEqual([total - 1, total, 'Two changes together']);
  });

  it('puts the smallest change first and what cannot do it last, with the best that was seen', () => {
    const has = measure(small);
    const wanted = { margin: has.margin + 1 * mV, width: has.width * 0.7 };
    const found = advise(small, { wanted });
    const reached = found.changes.map((c) => c.to !== undefined);
    expect(reached.lastIndexOf(true)).toBeLessThan(reached.includes(false) ? reached.indexOf(false) : 99);
    const none = advise(small, { wanted: { margin: 1, width: 0 }, trials: 2 });
    expect(none.changes.length).toBeGreaterThan(5);
    for (const change of none.changes) {
      expect(change.to).toBeUndefined();
      expect(change.gives.margin).toBeLessThan(1);
    }
  });
});

describe('two changes together', () => {
  const has = measure(small);
  // More than the threshold alone can give by standing midway between ONE and ZERO.
  const wanted = { margin: has.margin + 6.25 * mV, width: has.width / 2 };
  const { changes, pairs } = advise(small, { wanted });

  it('are sought where none alone is enough, and a winding does not stand in the way of a lever', () => {
    expect(changes.filter(({ to }) => to !== undefined)).toEqual([]);
    expect(pairs.map(([first, second]) => [first.label, second.label])).toContainEqual([
      'Threshold',
      'Stagger of Y after X',
    ]);
  });

  it('reach what is wanted when both are made, as told, and not with the first alone', () => {
    expect(pairs.length).toBeGreaterThan(0);
    for (const [first, second] of pairs) {
      const half = applyChange(small, first);
      expect(measure(half).margin).toBeLessThan(wanted.margin);
      const both = measure(applyChange(half, second));
      expect(both.margin).toBeGreaterThanOrEqual(wanted.margin);
      expect(both.width).toBeGreaterThanOrEqual(wanted.width);
      expect(both.margin).toBeCloseTo(second.gives.margin, 9);
    }
  });
});
