/**
 * A measured core fitted to several of its traces at once, and what is told of one that the fit has not seen (V5, V6;
 * the source stands in test/physics/measured-core.ts).
 */
import { describe, expect, it } from 'vitest';
import { coreDraws } from '../../engine/core/unknowns/core-draws.ts';
import { coreUncertainty } from '../../engine/core/unknowns/core-uncertainty.ts';
import { CORE_PRESETS } from '../../engine/design/core-presets.ts';
import type { CoreChoice } from '../../engine/design/core.ts';
import { fitTraces } from '../../engine/fitting/jig/fit-traces.ts';
import { modelTrace, type CoreCapture } from '../../engine/fitting/jig/trace-model.ts';
import {
  disturbedReads,
  driveAndSense,
  fullSelects,
  NEAR,
  RINGS_AND_TAIL,
} from '../physics/measured-core.ts';

const [after360, after340] = disturbedReads();
/** Peak, V, and area, Wb, of the bell of a disturbed read. */
function bellOf({ drive }: CoreCapture, trace: Float64Array): { peak: number; area: number } {
  const from = Math.round((2.3e-6 - drive.start) / drive.step);
  const bell = trace.slice(from, from + 21).map((v) => -v);
  return { peak: Math.max(...bell), area: bell.reduce((a, b) => a + b, 0) * drive.step };
}

describe('a core fitted to several drives and disturbed reads together', () => {
  it('V5: gives the disturbed read after 360 mA, peak within 16 % and area within 25 %, and hardly one after 340', () => {
    const captures = [driveAndSense(), ...fullSelects(), after360, after340];
    const fit = fitTraces(NEAR, captures, { unknowns: RINGS_AND_TAIL, sigma: 3e-3, maxIterations: 40 });
    const measured = bellOf(after360, after360.sense);
    const model = bellOf(after360, fit.captures[3].model);
    const small = bellOf(after340, fit.captures[4].model).peak;
    console.log(
      `  after 360 mA ${(1e3 * model.peak).toFixed(1)} mV of ${(1e3 * measured.peak).toFixed(1)}, ` +
        `${(1e9 * model.area).toFixed(1)} nWb of ${(1e9 * measured.area).toFixed(1)}; after 340 mA ${(1e3 * small).toFixed(1)} mV; ` +
        `all ${(1e3 * fit.rms).toFixed(2)} mV rms`,
    );
    expect(Math.abs(model.peak / 66.5e-3 - 1)).toBeLessThan(0.16);
    expect(Math.abs(model.area / measured.area - 1)).toBeLessThan(0.25);
    expect(small).toBeLessThan(8e-3);
  });

  it('V6: without half pulses the interval told of that read is wide, holds it, and the missing measurement is named', () => {
    const captures = [driveAndSense(), ...fullSelects()];
    const fit = fitTraces(NEAR, captures, { unknowns: RINGS_AND_TAIL, sigma: 3e-3, maxIterations: 40 });
    const preset = CORE_PRESETS['measured-1.3-mm'];
    const core: CoreChoice = {
      ...preset,
      parameters: fit.parameters,
      range: { ...preset.range, ...fit.range },
    };
    const peaks = coreDraws(core, 60, 3)
      .cores.map((p) => bellOf(after360, modelTrace(p, after360)).peak)
      .sort((a, b) => a - b);
    const [low, high] = [peaks[Math.floor(0.025 * peaks.length)], peaks[Math.ceil(0.975 * peaks.length) - 1]];
    console.log(`  ${peaks.length} cores: ${(1e3 * low).toFixed(1)} to ${(1e3 * high).toFixed(1)} mV`);
    expect(low).toBeLessThan(66.5e-3);
    expect(high).toBeGreaterThan(66.5e-3);
    expect(high - low).toBeGreaterThan(20e-3);
    const knee = coreUncertainty(core).find(({ parameter }) => parameter === 'coerciveDrive')!;
    expect(knee.measure).toContain('1,024 half-select pulses');
  });
});
