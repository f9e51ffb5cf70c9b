import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { windowOf } from '../../engine/strobe/window-of.ts';
import { PARTS } from '../../web/state/atoms.ts';
import { bandOf, bandWords } from '../../web/stage/path/part-bands.ts';
import { PART_FIELDS } from '../../web/stage/path/part-fields.ts';
import { sliderScale } from '../../web/stage/path/slider-scale.ts';
import { strobeStateAt } from '../../web/model/strobe-state.ts';
import type { Run } from '../../web/model/run.ts';

describe('a slider', () => {
  const ratio = sliderScale({ kind: 'ratio' }, 0.333);
  const between = sliderScale({ kind: 'between', low: 0, high: 200e-9, step: 1e-9 }, 30e-9);

  it('goes from half to twice what it stood at, in three digits, or from end to end in steps', () => {
    expect([ratio.valueAt(0), ratio.valueAt(100), ratio.valueAt(200)]).toEqual([0.167, 0.333, 0.666]);
    expect([between.valueAt(0), between.valueAt(30), between.valueAt(200)]).toEqual([0, 30e-9, 200e-9]);
    expect(between.positions).toBe(200);
  });

  it('comes back to where a value was set, at every position', () => {
    for (const scale of [ratio, between])
      for (let position = 0; position <= scale.positions; position++)
        expect(Math.round(scale.positionOf(scale.valueAt(position)))).toBe(position);
  });

  it('reaches as far as the value that it was opened at', () => {
    const wide = sliderScale({ kind: 'between', low: 0, high: 50, step: 1 }, 85);
    expect([wide.high, wide.valueAt(wide.positions), wide.positionOf(85)]).toEqual([85, 85, 85]);
  });

  it('has a unit for every field that has one', () => {
    for (const field of PARTS.flatMap((part) => PART_FIELDS[part]))
      if (field.reach) expect(field.unit, field.label).toBeDefined();
  });
});

describe('the band of a slider', () => {
  const design = checkDesign({
    core: { preset: 'ferrite-20-mil' },
    mat: { rows: 4, columns: 4 },
    detector: { threshold: '14 mV', uncertainty: '1 mV' },
    tolerances: { drive: 0.01, supply: 0.01, temperature: '2 K' },
  });
  const ensemble = runEnsemble(design, { simulate, cases: 'corners' });
  if (!('envelope' in ensemble)) throw new Error('no ensemble');
  const trace = simulate(design);
  const run: Run = {
    design,
    one: trace,
    zero: trace,
    ensemble,
    reason: undefined,
    grade: 'full',
    warnings: [],
  };
  const strobe = strobeStateAt(run, undefined, design.detector.threshold)!;
  /** Does the strobe lie in a window? */
  const reads = (time: number, threshold: number) => {
    const { distance, corners } = windowOf(ensemble, { time, threshold });
    return { nominal: distance !== undefined, corners: corners!.distance !== undefined };
  };

  it('of the threshold ends where the window of the engine leaves the strobe, as designed and at the corners', () => {
    const band = bandOf('/detector/threshold', strobe)!;
    for (const [set, [found]] of [
      ['nominal', band.nominal],
      ['corners', band.corners!],
    ] as const) {
      const { low, high } = found!;
      expect(high).toBeGreaterThan(low);
      for (const inside of [low + 1e-6, (low + high) / 2, high - 1e-6])
        expect(reads(strobe.time, inside)[set]).toBe(true);
      for (const outside of [low - 20e-6, high + 20e-6]) expect(reads(strobe.time, outside)[set]).toBe(false);
    }
    expect(band.corners![0]!.low).toBeGreaterThanOrEqual(band.nominal[0]!.low);
    expect(bandWords(band, 'V', 4)).toMatch(/^reads at the corners [\d.]+ to [\d.]+ mV$/u);
  });

  it('of the strobe is the window, and says where it is one as designed alone', () => {
    const band = bandOf('/strobe/time', strobe)!;
    expect(band.nominal).toEqual(strobe.intervals.map(({ start, end }) => ({ low: start, high: end })));
    expect(bandWords({ nominal: band.nominal, corners: [] }, 's', 4)).toMatch(/^reads as designed only, /u);
    expect(bandWords({ nominal: [], corners: [] }, 's', 4)).toBe('reads nowhere');
    expect(bandOf('/strobe/time', undefined)).toBeUndefined();
    expect(bandOf('/drive/x/rise', strobe)).toBeUndefined();
  });
});
