import { describe, expect, it } from 'vitest';
import { readingBands } from '../../../engine/advice/bands.ts';
import type { Design } from '../../../engine/design/design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { small } from './small-mat.ts';

/** The threshold of a design as the input, from `low` to `high` V; held against windows, which know nothing of bands. */
function thresholdOf(design: Design, range: readonly [number, number]) {
  const make = (threshold: number): Design => ({ ...design, detector: { ...design.detector, threshold } });
  const now = Math.max(range[0], design.detector.threshold);
  const ensemble = runEnsemble(make(now), { simulate, cases: 'nominal' });
  if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
  const reads = (value: number): boolean => {
    const { verdict, intervals, inForce } = strobeWindow(make(value), { cases: 'nominal' });
    const inside = intervals.some(({ start, end }) => start <= inForce.time && inForce.time <= end);
    return inside && verdict.sets.nominal.margin >= 0;
  };
  return {
    bands: (over: readonly [number, number] = range) =>
      readingBands(ensemble, 'nominal', { now, range: over, ratio: true, make }, simulate),
    reads,
    /** A 64th of the range, and a hair. */
    step: (range[1] / range[0]) ** (1.001 / 64),
  };
}

describe('the band of an input in which a design reads', () => {
  it('ends as designed where every case reads, within a 64th of its range of where a window does not', () => {
    const { bands, reads, step } = thresholdOf(small, [2e-3, 60e-3]);
    const [{ low, high }, ...others] = bands() as [{ low: number; high: number }];
    expect(others).toEqual([]);
    for (const inside of [low, Math.sqrt(low * high), high]) expect(reads(inside)).toBe(true);
    for (const outside of [low / step, high * step]) expect(reads(outside)).toBe(false);
    expect(bands([0.4, 0.6])).toEqual([]);
  }, 300_000);
});
