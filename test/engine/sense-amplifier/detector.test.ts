import { describe, expect, it } from 'vitest';
import { detect, latch, readStrobe, thresholdAt, valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { idealDetector, samples, senseChannel } from './sense-channel.ts';

const ns = 1e-9;
const mV = 1e-3;
/** Rises from 0 to 40 mV in 100 ns and falls back in 100 ns. */
const time = samples(300 * ns, 3 * ns);
const triangle = time.map((t) => Math.max(0, 40 * mV - Math.abs(t - 100 * ns) * 4e5));

describe('the threshold detector', () => {
  it('times its pulse between the samples', () => {
    const { pulses, on } = detect(time, triangle, { ...idealDetector, threshold: 10.3 * mV });
    expect(pulses).toHaveLength(1);
    expect(pulses[0].start).toBeCloseTo(25.75 * ns, 15);
    expect(pulses[0].end).toBeCloseTo(174.25 * ns, 15);
    expect(on[8]).toBe(0);
    expect(on[9]).toBe(1);
    expect(on[58]).toBe(1);
    expect(on[59]).toBe(0);
  });

  it('switches on half its hysteresis above the threshold and off half below', () => {
    const { pulses } = detect(time, triangle, { ...idealDetector, threshold: 20 * mV, hysteresis: 8 * mV });
    expect(pulses[0].start).toBeCloseTo(60 * ns, 15);
    expect(pulses[0].end).toBeCloseTo(160 * ns, 15);
  });

  it('does not chatter on a ripple smaller than its hysteresis, and does without any', () => {
    const ripple = time.map((t, i) => triangle[i] + (i % 2 ? 1 : -1) * 2 * mV * (t > 0 ? 1 : 0));
    expect(detect(time, ripple, { ...idealDetector, hysteresis: 3 * mV }).pulses).toHaveLength(1);
    expect(detect(time, ripple, idealDetector).pulses.length).toBeGreaterThan(2);
  });

  it('answers later by its delay and not otherwise', () => {
    const now = detect(time, triangle, idealDetector).pulses[0];
    const late = detect(time, triangle, { ...idealDetector, delay: 17 * ns }).pulses[0];
    expect(late.start - now.start).toBeCloseTo(17 * ns, 15);
    expect(late.end - now.end).toBeCloseTo(17 * ns, 15);
  });

  it('lets a falling threshold come down to the signal', () => {
    const falling = { ...idealDetector, threshold: 50 * mV, slope: -1e5 };
    expect(thresholdAt(falling, 100 * ns)).toBeCloseTo(40 * mV, 12);
    expect(thresholdAt(falling, -5 * ns)).toBe(50 * mV);
    const flat = time.map(() => 30 * mV);
    expect(detect(time, flat, falling).pulses[0].start).toBeCloseTo(200 * ns, 14);
  });

  it('is high from the first sample when the trace starts above, and to the last when it ends above', () => {
    const { pulses } = detect(
      time,
      time.map(() => 1),
      idealDetector,
    );
    expect(pulses).toEqual([{ start: 0, end: time[time.length - 1] }]);
  });
});

describe('the latch', () => {
  it('is set by a pulse that touches the aperture, and by none other', () => {
    const pulses = [{ start: 100 * ns, end: 120 * ns }];
    expect(latch(pulses, 110 * ns, 0)).toBe(1);
    expect(latch(pulses, 130 * ns, 10 * ns)).toBe(0);
    expect(latch(pulses, 124 * ns, 10 * ns)).toBe(1);
    expect(latch(pulses, 94 * ns, 10 * ns)).toBe(0);
    expect(latch([], 94 * ns, 10 * ns)).toBe(0);
  });

  it('reads what the detector saw one delay before the strobe', () => {
    const design = senseChannel({ detector: { delay: 20 * ns } });
    const { pulses } = detect(time, triangle, design.detector);
    const reading = readStrobe(design, time, triangle, pulses, 65 * ns);
    expect(reading.value).toBeCloseTo(18 * mV, 12);
    expect(reading.bit).toBe(0);
    expect(readStrobe(design, time, triangle, pulses, 75 * ns).bit).toBe(1);
  });

  it('reads a trace between its samples and holds it beyond its ends', () => {
    expect(valueAt(time, triangle, 40.5 * ns)).toBeCloseTo(16.2 * mV, 12);
    expect(valueAt(time, triangle, -1)).toBe(0);
    expect(valueAt(time, triangle, 1)).toBe(0);
  });
});
