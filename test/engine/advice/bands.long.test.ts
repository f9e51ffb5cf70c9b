import { describe, expect, it } from 'vitest';
import { readingBands, type Band } from '../../../engine/advice/bands.ts';
import type { Design } from '../../../engine/design/design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { demo } from '../../demo-design.ts';
import { small } from './small-mat.ts';

type Change = (design: Design, value: number) => Design;

const withThreshold: Change = (design, threshold) => ({
  ...design,
  detector: { ...design.detector, threshold },
});

/** Both read currents, A. */
const withCurrent: Change = (design, readAmplitude) => ({
  ...design,
  drive: {
    ...design.drive,
    x: { ...design.drive.x, readAmplitude },
    y: { ...design.drive.y, readAmplitude },
  },
});

/** One input from `low` to `high`, SI; held against windows, which know nothing of bands. */
function inputOf(design: Design, change: Change, now: number, range: readonly [number, number]) {
  const make = (value: number): Design => change(design, value);
  const ensemble = runEnsemble(make(now), { simulate, cases: 'corners' });
  if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
  return {
    bands: (set: 'nominal' | 'corners', inside?: readonly Band[], over = range) =>
      readingBands(ensemble, set, { now, range: over, ratio: true, make }, simulate, inside),
    /** As designed: the strobe in force lies in a window, and nothing is short. */
    reads: (value: number): boolean => {
      const { verdict, intervals, inForce } = strobeWindow(make(value), { cases: 'nominal' });
      const inside = intervals.some(({ start, end }) => start <= inForce.time && inForce.time <= end);
      return inside && verdict.sets.nominal.margin >= 0;
    },
    /** The same with every corner, the strobe in force within the corners' own window. */
    readsAtCorners: (value: number): boolean => {
      const { corners, inForce } = strobeWindow(make(value), { cases: 'corners' });
      const own = corners?.strobe;
      const inside = own !== undefined && own.start <= inForce.time && inForce.time <= own.end;
      return inside && corners!.margin.left >= 0;
    },
    /** A 64th of the range, and a hair. */
    step: (range[1] / range[0]) ** (1.001 / 64),
  };
}

describe('the band of an input in which a design reads', () => {
  it('ends as designed where every case reads, within a 64th of its range of where a window does not', () => {
    const { bands, reads, step } = inputOf(small, withThreshold, small.detector.threshold, [2e-3, 60e-3]);
    const [{ low, high }, ...others] = bands('nominal') as [Band];
    expect(others).toEqual([]);
    for (const inside of [low, Math.sqrt(low * high), high]) expect(reads(inside)).toBe(true);
    for (const outside of [low / step, high * step]) expect(reads(outside)).toBe(false);
    expect(bands('nominal', undefined, [0.4, 0.6])).toEqual([]);
  }, 300_000);

  it.each([
    ['the threshold', withThreshold, 'detector', [2e-3, 60e-3]],
    ['both read currents', withCurrent, 'drive', [0.25, 0.5]],
  ] as const)(
    'ends at the corners of %s where every corner reads, within a 64th of where one does not, inside the band as designed',
    (_, change, part, range) => {
      const now = part === 'drive' ? steady.drive.x.readAmplitude : steady.detector.threshold;
      const { bands, readsAtCorners, step } = inputOf(steady, change, now, range);
      const [wide] = bands('nominal') as [Band];
      const [{ low, high }, ...others] = bands('corners', [wide]) as [Band];
      expect(others).toEqual([]);
      expect(low).toBeGreaterThanOrEqual(wide.low);
      expect(high).toBeLessThanOrEqual(wide.high);
      // The corners take something away: it is not the band as designed once more.
      expect(high / low).toBeLessThan(wide.high / wide.low);
      for (const inside of [low, Math.sqrt(low * high), high]) expect(readsAtCorners(inside)).toBe(true);
      for (const outside of [low / step, high * step]) expect(readsAtCorners(outside)).toBe(false);
    },
    300_000,
  );
});

/** Sixteen cores with drives and a room good enough that they read at their corners. */
const steady = demo('minimal', {
  mat: { rows: 4, columns: 4 },
  selected: { row: 1, column: 2 },
  tolerances: { drive: 0.01, supply: 0.01, temperature: '5 K' },
});
