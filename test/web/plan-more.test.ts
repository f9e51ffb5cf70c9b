import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { windowOf } from '../../engine/strobe/window-of.ts';
import { runningSum, weightOf } from '../../web/charts/mat-gives.ts';
import { openingsOf, piecesOf, sizeOfRegion } from '../../web/charts/opening.ts';
import { readSpan } from '../../web/model/read-span.ts';
import { collectRun } from '../../web/compute/run-pieces.ts';
import { seenTrace } from '../../web/model/traces.ts';
import { inOrder, whatItSets } from '../../web/shelf/cases.ts';
import { faultAt, neighbour, withBitTurned, withFault } from '../../web/stage/mat/core-changes.ts';

const demo = (name: string) =>
  checkDesign(
    JSON.parse(readFileSync(new URL(`../../fixtures/designs/${name}.json`, import.meta.url), 'utf8')),
  );

describe('the opening', () => {
  const ensemble = runEnsemble(demo('single-core-jig'), { simulate });
  if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
  const { exact, stated, corners } = openingsOf(ensemble);

  it('only loses by what is counted: each region lies inside the one before', () => {
    expect(stated.length).toBeGreaterThan(10);
    expect(corners!.length).toBeGreaterThan(10);
    for (const [outer, inner] of [
      [exact, stated],
      [stated, corners!],
    ] as const) {
      const bands = new Map(outer.map((place) => [place.time, place]));
      for (const { time, low, high } of inner) {
        expect(bands.get(time)!.low).toBeLessThanOrEqual(low);
        expect(bands.get(time)!.high).toBeGreaterThanOrEqual(high);
      }
    }
  });

  it('agrees with the analysis: a pair is inside the stated region just where the window holds it', () => {
    const at = stated[stated.length >> 1]!;
    const inside = (threshold: number): boolean =>
      windowOf(ensemble, { time: at.time, threshold }).intervals.some(
        ({ start, end }) => start <= at.time && at.time <= end,
      );
    expect(inside((at.low + at.high) / 2)).toBe(true);
    expect(inside(at.low - 1e-4)).toBe(false);
    expect(inside(at.high + 1e-4)).toBe(false);
  });

  it('is cut where it closes, and its size is that of the widest piece', () => {
    const place = (time: number) => ({ time, low: time, high: time + 1 });
    const region = [0, 1, 2, 6, 7].map(place);
    expect(piecesOf(region, 1).map((piece) => piece.map(({ time }) => time))).toEqual([
      [0, 1, 2],
      [6, 7],
    ]);
    expect(sizeOfRegion(region, 1)).toEqual({ from: 0, to: 2, low: 0, high: 3 });
    expect(sizeOfRegion([], 1)).toBeUndefined();
  });
});

describe('the list of cases', () => {
  const item = { name: 'a', bit: 1, pattern: '', atStrobe: 0, defines: false } as const;
  const corners = { one: 'a', zero: 'b' } as Parameters<typeof whatItSets>[1];

  it('says what a run sets, and of the corners only what a corner sets', () => {
    expect(whatItSets({ ...item, defines: true }, corners)).toBe('sets the least ONE');
    expect(whatItSets({ ...item, bit: 0, defines: true }, corners)).toBe('sets the greatest ZERO');
    expect(whatItSets({ ...item, corner: true }, corners)).toBe('sets the least ONE at the corners');
    expect(whatItSets({ ...item, name: 'b', corner: true }, corners)).toBeUndefined();
    expect(whatItSets(item, corners)).toBeUndefined();
  });

  it('puts the worst first: the least ONE, then the greatest ZERO', () => {
    const cases = [
      { ...item, bit: 0, atStrobe: 1 },
      { ...item, atStrobe: 9 },
      { ...item, bit: 0, atStrobe: 2 },
      { ...item, atStrobe: 8 },
    ] as const;
    expect(inOrder(cases).map(({ atStrobe }) => atStrobe)).toEqual([8, 9, 2, 1]);
  });
});

describe('the mat', () => {
  it('shades by the root of a share, so that a tenth is still seen, and leaves a thousandth out', () => {
    expect([1, -1, 0.1, 0.01, 0.001, 0].map((value) => weightOf(value, 1))).toEqual([5, 5, 2, 1, 0, 0]);
    expect(weightOf(1, 0)).toBe(0);
    // From end A along the wire, whatever the order of the cores.
    expect([...runningSum(Float64Array.of(1, -2, 4), [2, 0, 1])]).toEqual([4, 5, 3]);
  });

  it('leads from core to core by keys and never off the mat', () => {
    const mat = { rows: 3, columns: 4 };
    const from = { row: 1, column: 0 };
    expect(neighbour('ArrowLeft', from, mat)).toEqual(from);
    expect(neighbour('ArrowRight', from, mat)).toEqual({ row: 1, column: 1 });
    expect(neighbour('ArrowUp', from, mat)).toEqual({ row: 0, column: 0 });
    expect(neighbour('ArrowDown', { row: 2, column: 0 }, mat)).toEqual({ row: 2, column: 0 });
    expect(neighbour('End', from, mat)).toEqual({ row: 1, column: 3 });
    expect(neighbour('PageDown', from, mat)).toEqual({ row: 2, column: 0 });
    expect(neighbour('a', from, mat)).toBeUndefined();
  });

  it('turns one bit of the pattern, and makes one core other than the others and like them again', () => {
    const raw = { core: { preset: 'ferrite-20-mil' }, mat: { rows: 2, columns: 3 } };
    const turned = withBitTurned(raw, 3, Uint8Array.of(0, 1, 0, 1, 1, 0), { row: 1, column: 2 });
    expect(turned).toMatchObject({ stored: { kind: 'custom', rows: ['010', '111'] } });
    const at = { row: 0, column: 1 };
    for (const fault of ['missing', 'reversed', 'weak', 'magnet'] as const) {
      const changed = withFault(withFault(raw, at, 'missing'), at, fault);
      expect(faultAt(checkDesign(changed), at)).toBe(fault);
      expect(withFault(changed, at, 'none')).toEqual(raw);
    }
  });
});

describe('what the latch sees', () => {
  it('is one detector delay late in the page’s own traces just as in the analysis', () => {
    const design = demo('single-core-jig');
    const delayed = { ...design, detector: { ...design.detector, delay: 25 * design.numerics.output } };
    const run = simulate(delayed, { estimateError: false });
    const prompt = seenTrace({ ...run, design: { ...design, detector: { ...design.detector, delay: 0 } } });
    const seen = seenTrace(run);
    for (const i of [30, 100, 200]) expect(seen[i]).toBeCloseTo(prompt[i - 25]!, 12);
    const ensemble = runEnsemble(delayed, { simulate, cases: 'quick', wholeCycle: true });
    if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
    // The design's own ONE is among those that the band holds; told too early it would stick out.
    const inBand = (values: Float64Array) =>
      [...values.keys()].every(
        (i) => values[i]! > ensemble.seen.one[i]! - 1e-4 && values[i]! < ensemble.seen.oneHigh[i]! + 1e-4,
      );
    expect([inBand(seen), inBand(prompt)]).toEqual([true, false]);
  });
});

describe('a run put together from two workers', () => {
  const design = demo('single-core-jig');
  const trace = simulate(design, { estimateError: false, until: 1e-7 });
  const other = { ...trace };
  const checked = { kind: 'design', design } as const;
  const one = { kind: 'one', one: trace, warnings: [] } as const;
  const zero = { kind: 'zero', zero: other } as const;
  const judged = { kind: 'judged', ensemble: undefined, reason: 'why', grade: 'quick' } as const;

  it('goes to the end of the cycle when both of its reads do, and never shows two of different length', () => {
    const [long, longZero] = [1, 0].map((bit) =>
      simulate({ ...design, selected: { ...design.selected, bit: bit as 0 | 1 } }, { estimateError: false }),
    ) as [typeof trace, typeof trace];
    const exact = { ...long };
    const pieces = collectRun();
    pieces.add(checked);
    pieces.add(one);
    pieces.add(zero);
    const before = pieces.add({ ...judged, grade: 'full', one: exact })!;
    expect([before.one, before.zero]).toEqual([trace, other]);
    const after = pieces.add({ kind: 'whole', one: long, zero: longZero })!;
    expect(after.one).toBe(exact);
    expect(after.zero).toBe(longZero);
    expect(after.one.time.length).toBeGreaterThan(trace.time.length);
  });

  it('reads first what it reads to the end of the cycle, within the 0.1 % that default steps are good for', () => {
    const mat = demo('tide-recorder-first-try-32x32');
    const end = readSpan(mat).to;
    const [short, long] = [end, undefined].map((until) => simulate(mat, { estimateError: false, until })) as [
      typeof trace,
      typeof trace,
    ];
    const peak = long.senseVoltage.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    expect(short.time.length).toBeGreaterThan(700);
    for (let i = 0; i < short.time.length - 1; i++)
      expect(Math.abs(short.senseVoltage[i]! - long.senseVoltage[i]!)).toBeLessThan(1e-3 * peak);
  });

  it('is known when both traces are, in whatever order they come', () => {
    for (const order of [
      [one, zero],
      [zero, one],
    ]) {
      const pieces = collectRun();
      pieces.add(checked);
      expect(pieces.add(order[0]!)).toBeUndefined();
      const run = pieces.add(order[1]!)!;
      expect([run.grade, run.one, run.zero]).toEqual(['traces', trace, other]);
    }
  });

  it('waits for a late ZERO with the judgement already there, and takes the exact ONE when it comes', () => {
    const pieces = collectRun();
    pieces.add(checked);
    pieces.add(one);
    expect(pieces.add(judged)).toBeUndefined();
    expect(pieces.add(zero)).toMatchObject({ grade: 'quick', reason: 'why' });
    const exact = { ...trace };
    const last = pieces.add({ ...judged, grade: 'full', one: exact })!;
    expect(last.grade).toBe('full');
    expect(last.one).toBe(exact);
    expect(last.design).toBe(design);
  });
});
