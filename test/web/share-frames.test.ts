import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { frameInstants, nearestFrame } from '../../web/model/share-frames.ts';

const span = { from: 20e-9, to: 420e-9 };

describe('what every core gives over a span', () => {
  const design = checkDesign({ mat: { rows: 4, columns: 4 } });
  const at = frameInstants(span, 1);
  const { shares } = simulate(design, { sharesAt: [...at], contributions: false });

  it('is kept at 161 instants from its beginning to its end', () => {
    expect(at).toHaveLength(161);
    expect([at[0], at.at(-1)]).toEqual([span.from, span.to]);
    expect(shares!.map(({ time }) => time)).toEqual(at.map((time) => expect.closeTo(time, 15)));
  });

  it('of one run is what runs for single instants give', () => {
    for (const i of [20, 80, 140]) {
      const [alone] = simulate(design, { sharesAt: [at[i]!], contributions: false }).shares!;
      alone!.emf.forEach((volts, core) => expect(shares![i]!.emf[core]).toBeCloseTo(volts, 12));
    }
  });

  it('is told for the nearest instant, with that one’s own time', () => {
    const step = 2.5e-9;
    for (const wanted of [0, 20e-9, 21e-9, 133.3e-9, 419.9e-9, 1e-6]) {
      const held = Math.min(Math.max(wanted, span.from), span.to);
      expect(Math.abs(nearestFrame(shares!, wanted)!.time - held)).toBeLessThanOrEqual(step / 2 + 1e-15);
    }
    expect(nearestFrame([], 1e-9)).toBeUndefined();
  });

  it('ends with the run', () => {
    expect(frameInstants(span, 100e-9).at(-1)).toBe(100e-9);
    expect(new Set(frameInstants(span, 100e-9)).size).toBe(frameInstants(span, 100e-9).length);
  });
});
