import { describe, expect, it } from 'vitest';
import type { Series } from '../../engine/studies/shared/shape.ts';
import { rasterise } from '../../web/studies/map-raster.ts';
import { mergeAlike, spread, valueExtent } from '../../web/studies/series-lines.ts';

const line = (name: string, y: readonly (number | null)[]): Series => ({
  name,
  panel: 'p',
  xLabel: 'n',
  xUnit: '',
  yLabel: 'u',
  yUnit: 'V',
  x: y.map((_, i) => i),
  y,
  point: y.map((_, i) => i),
  role: 'data',
});

describe('charts of studies', () => {
  it('lines that cannot be told apart are drawn once under their names, others not', () => {
    const merged = mergeAlike([
      line('a', [1, 2]),
      line('b', [1, 2.015]),
      line('c', [1, 3]),
      line('d', [1, null]),
      line('e', [1, 2.03]),
    ]);
    expect(merged.map(({ name }) => name)).toEqual(['a; b', 'c', 'd', 'e']);
  });

  it('labels are moved apart in their order and kept inside', () => {
    const placed = spread([100, 102, 20, 101], 15, 0, 120);
    const order = [2, 0, 3, 1].map((i) => placed[i]!);
    for (let k = 1; k < order.length; k++)
      expect(order[k]! - order[k - 1]!).toBeGreaterThanOrEqual(15 - 1e-9);
    expect(Math.max(...placed)).toBeLessThanOrEqual(120);
    expect(placed[2]).toBe(20);
  });

  it('shows zero where values come near it and leaves it out where they are far', () => {
    expect(valueExtent([1, 5])[0]).toBe(0);
    expect(valueExtent([-1, 5])[0]).toBeLessThan(-1);
    const [low, high] = valueExtent([100, 100.001]);
    expect(low).toBeGreaterThan(50);
    expect(high - low).toBeGreaterThan(5);
    expect(valueExtent([0, 0])[1]).toBeGreaterThan(0);
    expect(valueExtent([])).toEqual([0, 1]);
  });

  it('a plane through scattered samples is that plane everywhere on the raster', () => {
    const samples = [
      [0, 0],
      [100, 0],
      [0, 60],
      [100, 60],
      [37, 21],
      [71, 44],
      [12, 50],
    ].map(([x, y]) => ({ x: x!, y: y!, value: 2 * x! - 3 * y! + 1 }));
    const { values, columns, rows } = rasterise(samples, [0, 0, 100, 60], 21, 13);
    for (let j = 0; j < rows; j++)
      for (let i = 0; i < columns; i++)
        expect(values[j * columns + i]).toBeCloseTo(2 * (5 * i) - 3 * (5 * j) + 1, 6);
  });
});
