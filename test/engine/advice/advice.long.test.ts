import { describe, expect, it } from 'vitest';
import { advise } from '../../../engine/advice/advice.ts';
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
