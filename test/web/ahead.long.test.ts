import { describe, expect, it } from 'vitest';
import type { Json } from '../../engine/base/json-patch.ts';
import { wholeKnowledge } from '../../engine/predict/knowledge.ts';
import { whatNext } from '../../engine/predict/next/what-next.ts';
import { predict } from '../../engine/predict/predict.ts';
import { BENCH_JOBS } from '../../web/bench/bench-jobs.ts';
import { SMALL } from '../independent/builds.ts';

/** What the page's worker answers is what the library does: one function stands behind both. */
const design: Json = {
  ...(SMALL as object),
  mat: { rows: 2, columns: 2 },
  selected: { row: 0, column: 1, bit: 1 },
  tolerances: { drive: 0, supply: 0, temperature: '0 K' },
};
const known = wholeKnowledge({ design });

describe('the bench looks ahead', () => {
  it('with the figures of the library, and tells how far it is', () => {
    const told: number[] = [];
    const changes = [{ path: '/temperature', value: '40 degC' }];
    const found = BENCH_JOBS.predict({ known, changes }, ({ done, planned }) => told.push(done / planned));
    const { corners, peak, traces } = predict({ known, changes });
    expect(found).toMatchObject({ corners, peak });
    expect((found as { traces: unknown }).traces).toEqual(traces);
    expect(told).toEqual(told.toSorted((a, b) => a - b));
    expect([told[0], told.at(-1)]).toEqual([0, 1]);
    // What is planned is what is done: the end is no jump.
    expect(told.at(-2)).toBeGreaterThan(0.9);
    const next = BENCH_JOBS.next({ known }, () => {}) as ReturnType<typeof whatNext>;
    expect(next.ranked.length).toBeGreaterThan(10);
    expect(next.margin.low).toBeLessThanOrEqual(next.margin.value);
  });
});
