import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Design } from '../../../engine/design/design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import {
  buildEnvelope,
  strobeSearch,
  strobeUncertainties,
  type StrobeEnvelope,
  type StrobeUncertainties,
} from '../../../engine/strobe/envelope.ts';
import { findOpening, passIntervals } from '../../../engine/strobe/intervals.ts';
import { anyDesign } from '../../random-design.ts';

const ns = 1e-9;
const mV = 1e-3;

/**
 * The envelope of a design's own ONE and ZERO, and a threshold at a part of what the ONE reaches over the ZERO, so that
 * many designs have a window to lose.
 */
function drawn(design: Design, part: number): { envelope: StrobeEnvelope; threshold: number } {
  const search = strobeSearch(design);
  const scale = 1 / (design.amplifier.divider * design.amplifier.gain);
  const cases = ([1, 0] as const).map((bit) => {
    const { time, amplifierOutput } = simulate(
      { ...design, selected: { ...design.selected, bit } },
      { contributions: false, estimateError: false, until: search.end + design.detector.delay },
    );
    return { time, name: `${bit}`, bit, referred: amplifierOutput.map((value) => value * scale) };
  });
  const envelope = buildEnvelope(cases[0].time, cases, search);
  const { one, zero } = envelope;
  const widest = one.reduce((best, value, i) => (value - zero[i] > one[best] - zero[best] ? i : best), 0);
  return { envelope, threshold: zero[widest] + part * (one[widest] - zero[widest]) };
}

describe('random designs', () => {
  it.each([1, 2, 3, 4, 5])(
    'never get a wider window or opening from wider uncertainties: hundred %i of 500 designs',
    (hundred) => {
      const fraction = fc.double({ min: 0.05, max: 0.95, noNaN: true });
      const volts = fc.double({ min: 0, max: 4 * mV, noNaN: true });
      const times = fc.double({ min: 0, max: 20 * ns, noNaN: true });
      const unsure = fc.record({ uncertainty: volts, hysteresis: volts, aperture: times, jitter: times });
      let windows = 0;
      fc.assert(
        fc.property(
          anyDesign({ largest: 3, history: false, lossless: false, cable: false }),
          fraction,
          unsure,
          unsure,
          (random, part, less, more) => {
            const design = { ...random, numerics: { ...random.numerics, output: 4 * ns } };
            const { envelope, threshold } = drawn(design, part);
            const stated = (add: typeof less | undefined): StrobeUncertainties => {
              const of = (name: keyof typeof less, unit: number): number =>
                unit * less[name] + (add ? unit * add[name] : 0);
              const { detector, strobe } = design;
              return strobeUncertainties({
                ...design,
                detector: { ...detector, uncertainty: of('uncertainty', 1), hysteresis: of('hysteresis', 1) },
                strobe: { ...strobe, aperture: of('aperture', 1), jitter: of('jitter', 0.2) },
              });
            };
            const [narrow, wide] = [stated(undefined), stated(more)];
            const before = passIntervals(envelope, threshold, narrow);
            const after = passIntervals(envelope, threshold, wide);
            windows += before.length;
            for (const w of after)
              expect(before.some((n) => n.start <= w.start + 1e-18 && w.end <= n.end + 1e-18)).toBe(true);
            const open = new Map(findOpening(envelope, narrow).map((band) => [band.time, band]));
            for (const { time, low, high } of findOpening(envelope, wide)) {
              expect(open.get(time)!.low).toBeLessThanOrEqual(low + 1e-15);
              expect(open.get(time)!.high).toBeGreaterThanOrEqual(high - 1e-15);
            }
          },
        ),
        { numRuns: 100, seed: hundred },
      );
      expect(windows).toBeGreaterThan(40);
    },
  );
});
