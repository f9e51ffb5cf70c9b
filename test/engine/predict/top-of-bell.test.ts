import { describe, expect, it } from 'vitest';
import { topOfBell } from '../../../engine/predict/top-of-bell.ts';
import { missedShare, shortAt, shortcomingOf } from '../../../engine/predict/shortcoming.ts';

const ns = 1e-9;
const time = Float64Array.from({ length: 400 }, (_, i) => i * ns);
const bell = (t: number): number => 0.05 / Math.cosh((t - 200.3 * ns) / (40 * ns)) ** 2;

describe('the top of a bell', () => {
  it('lies between the samples where the parabola has it, and not on the spike of an edge before', () => {
    const spiked = time.map((t) => 0.8 * Math.exp(-t / (8 * ns)) + bell(t));
    const { peak, peakTime } = topOfBell(time, spiked, { start: 100 * ns, end: 350 * ns });
    expect(peakTime).toBeGreaterThan(200.2 * ns);
    expect(peakTime).toBeLessThan(200.4 * ns);
    expect(peak / 0.05).toBeCloseTo(1, 4);
  });

  it('is the same of a ONE that is read negative', () => {
    const { peak } = topOfBell(
      time,
      time.map((t) => -bell(t)),
      { start: 100 * ns, end: 350 * ns },
    );
    expect(peak / 0.05).toBeCloseTo(1, 4);
  });
});

describe('what the model does not give', () => {
  it('is a share of the voltage nearby, and more where that is steep', () => {
    const trace = time.map(bell);
    const wrong = shortAt(trace, ns, { share: 0.03, late: 4 * ns, run: 0 });
    expect(wrong[200]! / (0.03 * 0.05)).toBeCloseTo(1, 1);
    expect(wrong[180]).toBeGreaterThan(wrong[200]!);
    expect(wrong[0]).toBeLessThan(1e-4);
  });

  it('is no less than where captures were missed', () => {
    const one = { peak: 40e-3, peakTime: 200 * ns };
    expect(shortcomingOf([0.08, 0.01], one)).toEqual({ share: 0.08, late: 0.08 * 200 * ns, run: 40e-6 });
    // Where nothing is near, a run is still no better than a thousandth of a ONE.
    const still = shortAt(new Float64Array(100), ns, shortcomingOf([], one));
    expect(Math.min(...still)).toBe(40e-6);
    expect(shortcomingOf([0.001], one).share).toBe(0.03);
  });

  it('judges a bell that is missed by the bell, not by a spike long before it', () => {
    const spiked = time.map((t) => bell(t) + 0.2 * Math.exp(-(((t - 20 * ns) / (5 * ns)) ** 2)));
    const noise = 1e-3;
    const missed = (scale: number): number =>
      missedShare({
        time,
        predicted: spiked,
        difference: time.map((t, i) => scale * bell(t) + (i % 2 === 0 ? noise : -noise)),
        noise,
      });
    expect(missed(0)).toBeCloseTo(0, 6);
    expect(missed(0.1)).toBeGreaterThan(0.05);
    expect(missed(0.1)).toBeLessThan(0.1);
  });
});
