import * as fc from 'fast-check';
import { scaleLinear } from 'd3';
import { describe, expect, it } from 'vitest';
import { ticksOf } from '../../web/charts/axes.ts';
import { decimate, extent, sampleAt } from '../../web/charts/decimate.ts';
import { keyTarget } from '../../web/charts/handle.ts';
import { lineCrosses, placeLabels } from '../../web/charts/labels.ts';
import { coreAt, matSpaces } from '../../web/charts/mat-spaces.ts';
import { axisPrefix } from '../../web/charts/prefix.ts';
import { makeSpaces, paddedSpan, panSpan, zoomSpan } from '../../web/charts/spaces.ts';

describe('decimation', () => {
  it('keeps every peak of 100,000 samples in at most four points a pixel', () => {
    const values = new Float64Array(100_000);
    values[12_345] = 7;
    values[76_543] = -9;
    const points = decimate({ start: 0, step: 1e-9, values }, 0, 1e-4, 800);
    expect(points.length / 2).toBeLessThanOrEqual(4 * 800);
    expect(Math.max(...points)).toBe(7);
    expect(Math.min(...points)).toBe(-9);
  });

  it('never loses the extremes of what is shown and never runs back in time', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 3000 }),
        fc.integer({ min: 1, max: 100 }),
        (list, pixels) => {
          const points = decimate({ start: 0, step: 1, values: list }, 0, list.length - 1, pixels);
          const ys = points.filter((_, i) => i % 2 === 1);
          const ts = points.filter((_, i) => i % 2 === 0);
          expect(Math.max(...ys)).toBe(Math.max(...list));
          expect(Math.min(...ys)).toBe(Math.min(...list));
          ts.forEach((t, i) => expect(i === 0 || t >= ts[i - 1]!).toBe(true));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('draws nothing of an empty trace and all of a short one', () => {
    expect(decimate({ start: 0, step: 1, values: [] }, 0, 1, 10)).toHaveLength(0);
    expect([...decimate({ start: 0, step: 1, values: [3, 4] }, 0, 1, 10)]).toEqual([0, 3, 1, 4]);
  });

  it('reads between samples by a straight line and holds beyond the ends', () => {
    const samples = { start: 0, step: 2, values: [0, 4, 0] };
    expect(sampleAt(samples, 1)).toBe(2);
    expect(sampleAt(samples, 99)).toBe(0);
    expect(extent(samples, 1, 3)).toEqual([4, 4]);
    expect(extent(samples, 10, 12)).toBeUndefined();
  });
});

describe('axes', () => {
  it.each([
    [3e-6, 'µ'],
    [0.5, 'm'],
    [999e-9, 'n'],
    [1e-6, 'µ'],
    [0, ''],
  ])('give %d one prefix: %s', (largest, symbol) => {
    expect(axisPrefix(largest).symbol).toBe(symbol);
  });

  it('print a true minus sign, and never two prefixes on one axis', () => {
    const ticks = ticksOf(scaleLinear([-0.04, 0.08], [100, 0]), axisPrefix(0.08), 6);
    expect(ticks.map((tick) => tick.text)).toEqual(['−40', '−20', '0', '20', '40', '60', '80']);
    expect(ticks[0]!.at).toBeCloseTo(-0.04, 12);
  });
});

describe('spaces', () => {
  const size = { width: 300, height: 200, margins: { top: 10, right: 10, bottom: 20, left: 40 } };

  it('go from seconds to px and back without loss', () => {
    const spaces = makeSpaces(size, { from: 0, to: 1e-6 }, { low: -1, high: 1 });
    for (const t of [0, 3.3e-7, 1e-6]) expect(spaces.x.invert(spaces.x(t))).toBeCloseTo(t, 15);
    expect(spaces.y(1)).toBe(10);
    expect(spaces.y(-1)).toBe(180);
  });

  it('zoom and pan stay within the cycle', () => {
    const limits = { from: 0, to: 100 };
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 99, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (from, factor, pan) => {
          const moved = panSpan(zoomSpan({ from, to: from + 1 }, factor, limits, 0.5), pan, limits);
          expect(moved.from).toBeGreaterThanOrEqual(-1e-9);
          expect(moved.to).toBeLessThanOrEqual(100 + 1e-9);
          expect(moved.to - moved.from).toBeGreaterThanOrEqual(0.5 - 1e-9);
        },
      ),
    );
    expect(zoomSpan({ from: 40, to: 60 }, 0.5, limits, 1)).toEqual({ from: 45, to: 55 });
    // What is looked at stays where it is on the screen; what is not in view does not draw the view along.
    expect(zoomSpan({ from: 40, to: 60 }, 0.5, limits, 1, 44)).toEqual({ from: 42, to: 52 });
    expect(zoomSpan({ from: 40, to: 60 }, 0.5, limits, 1, 70)).toEqual({ from: 45, to: 55 });
  });

  it('are never empty and always hold zero', () => {
    expect(paddedSpan(0, 0).high).toBeGreaterThan(paddedSpan(0, 0).low);
    expect(paddedSpan(2, 3).low).toBeLessThanOrEqual(0);
  });
});

describe('direct labels', () => {
  const spaces = makeSpaces(
    { width: 400, height: 300, margins: { top: 20, right: 10, bottom: 20, left: 40 } },
    { from: 0, to: 100 },
    { low: -2, high: 2 },
  );
  const bump = {
    start: 0,
    step: 1,
    values: Array.from({ length: 101 }, (_, i) => Math.exp(-(((i - 50) / 12) ** 2))),
  };
  const flat = { start: 0, step: 1, values: Array.from({ length: 101 }, () => 0.1) };

  it('stay inside the plot, off each other, off every line and off upright lines', () => {
    const wishes = [
      { text: 'ONE, least', samples: bump, side: 'above' as const },
      { text: 'ZERO, greatest', samples: flat, side: 'below' as const },
    ];
    const placed = placeLabels(spaces, wishes, { lines: [bump, flat], uprights: [50] }, 1);
    const boxes = placed.map(({ x, y, text }) => ({
      left: x,
      right: x + text.length * 7,
      top: y - 11,
      bottom: y + 3,
    }));
    for (const box of boxes) {
      expect(box.left).toBeGreaterThan(40);
      expect(box.right).toBeLessThan(392);
      expect(lineCrosses(spaces, bump, box) || lineCrosses(spaces, flat, box)).toBe(false);
      expect(spaces.x(50) > box.left && spaces.x(50) < box.right).toBe(false);
    }
    const [a, b] = boxes as [(typeof boxes)[0], (typeof boxes)[0]];
    expect(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).toBe(false);
  });
});

describe('the mat', () => {
  it('finds the core under a point and nothing beside the mat', () => {
    const spaces = matSpaces(8, 4, 400, 1);
    const size = { rows: 8, columns: 4 };
    for (const [row, column] of [
      [0, 0],
      [7, 3],
      [3, 2],
    ] as const)
      expect(
        coreAt(
          spaces,
          size,
          spaces.left + (column + 0.5) * spaces.pitch,
          spaces.top + (row + 0.5) * spaces.pitch,
        ),
      ).toEqual({ row, column });
    expect(coreAt(spaces, size, 1, 1)).toBeUndefined();
    expect(coreAt(spaces, size, spaces.left + 4.1 * spaces.pitch, spaces.top + 5)).toBeUndefined();
  });
});

describe('keys on a grip', () => {
  const state = { value: 780, low: 0, high: 3000 };
  it.each([
    ['ArrowRight', 781],
    ['ArrowUp', 781],
    ['ArrowLeft', 779],
    ['ArrowDown', 779],
    ['PageUp', 790],
    ['PageDown', 770],
    ['Home', 0],
    ['End', 3000],
  ])('%s moves 780 to %d', (key, target) => {
    expect(keyTarget(key, state, 1)).toBe(target);
  });
  it('leaves every other key to the page', () => {
    expect(keyTarget('Tab', state, 1)).toBeUndefined();
    expect(keyTarget('a', state, 1)).toBeUndefined();
  });
});
