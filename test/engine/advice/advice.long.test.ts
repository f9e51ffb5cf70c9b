import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { advise } from '../../../engine/advice/advice.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
const mV = 1e-3;

function demo(name: string, patch: object = {}): Design {
  const path = new URL(`../../../fixtures/designs/${name}.json`, import.meta.url);
  return checkDesign({ ...JSON.parse(readFileSync(path, 'utf8')), ...patch });
}

const small = demo('minimal', {
  mat: { rows: 4, columns: 4 },
  selected: { row: 1, column: 2 },
  requirement: { sets: ['nominal'] },
});

/** Margin and width by the long way: a window of the changed design. */
function measure(design: Design): { margin: number; width: number } {
  const { margin, intervals, inForce } = strobeWindow(design, { cases: 'nominal' });
  const here = intervals.find((i) => i.start <= inForce.time && inForce.time <= i.end);
  return {
    margin: Math.min(margin.one, margin.zero) - design.detector.uncertainty - design.detector.hysteresis / 2,
    width: here ? here.end - here.start : 0,
  };
}

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
