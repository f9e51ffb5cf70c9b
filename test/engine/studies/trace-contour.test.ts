import { describe, expect, it } from 'vitest';
import { joinEdges } from '../../../engine/studies/shared/trace-contour.ts';
import { scanLine } from '../../../engine/studies/shared/trace-edge.ts';

/** Against a disc, whose edge is known everywhere. */
describe('a contour joined from edges along rows and columns', () => {
  const places = Array.from({ length: 15 }, (_, i) => -1.05 + 0.15 * i);
  const inside = (x: number, y: number) => ({ pass: Math.hypot(x, y) < 0.8, margin: null });
  const edges = places.flatMap((at) => [
    ...scanLine(-1.05, 1.05, 9, 1e-6, (x) => inside(x, at)).edges.map((edge) => ({
      ...edge,
      y: at,
      along: 'x' as const,
    })),
    ...scanLine(-1.05, 1.05, 9, 1e-6, (y) => inside(at, y)).edges.map((edge) => ({
      ...edge,
      x: at,
      y: edge.x,
      along: 'y' as const,
    })),
  ]);
  const pieces = joinEdges(edges, places, places);

  it('runs once around: pieces as long together as the circle, every crossing met twice', () => {
    const length = pieces.reduce((sum, { x1, y1, x2, y2 }) => sum + Math.hypot(x2 - x1, y2 - y1), 0);
    expect(Math.abs(length / (2 * Math.PI * 0.8) - 1)).toBeLessThan(0.01);
    const met = new Map<string, number>();
    for (const { x1, y1, x2, y2 } of pieces)
      for (const key of [`${x1} ${y1}`, `${x2} ${y2}`]) met.set(key, (met.get(key) ?? 0) + 1);
    expect([...met.values()].every((count) => count === 2)).toBe(true);
    expect(met.size).toBe(edges.length);
  });

  it('never leaves the edge by more than a chord does, and knows on which side it passes', () => {
    for (const { x1, y1, x2, y2, passX, passY } of pieces) {
      const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2];
      const chord = Math.hypot(x2 - x1, y2 - y1);
      expect(Math.abs(Math.hypot(x, y) - 0.8)).toBeLessThan(0.8 - Math.sqrt(0.64 - chord ** 2 / 4) + 2e-6);
      expect(passX * x + passY * y).toBeLessThan(0);
    }
  });

  it('closes a tip on the last line that crosses it, passing on the side it came from', () => {
    const at = (x: number, y: number, side: 1 | -1) => ({ x, y, side, along: 'y' as const, within: 0 });
    const tip = [at(-1, -0.85, 1), at(-1, 0.85, -1), at(0, -0.9, 1), at(0, 0.9, -1)];
    const closing = joinEdges(tip, [-1, 0, 0.5], [-1, 1]).filter((p) => p.x1 === 0 && p.x2 === 0);
    expect(closing).toMatchObject([{ passX: -1, passY: 0 }]);
    // The same line round a notch that fails: what passes lies beyond.
    const notch = tip.map((edge) => ({ ...edge, side: edge.side === 1 ? (-1 as const) : (1 as const) }));
    const ends = joinEdges(notch, [-1, 0, 0.5], [-1, 1]).filter((p) => p.x1 === 0 && p.x2 === 0);
    expect(ends).toMatchObject([{ passX: 1, passY: 0 }]);
  });
});
