/**
 * The core model against a measured core (V1, V2, V4, V7; the source stands in measured-core.ts). Limits are those of a
 * study of the same traces: what the model has been seen to reach, so that it cannot silently become worse.
 */
import { describe, expect, it } from 'vitest';
import { CORE_PRESETS } from '../../engine/design/core-presets.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import { coreUnderCurrent } from '../../engine/fitting/jig/core-under-current.ts';
import { fitTraces, type TraceFit } from '../../engine/fitting/jig/fit-traces.ts';
import { modelTrace } from '../../engine/fitting/jig/trace-model.ts';
import {
  BELL,
  driveAndSense,
  fullSelects,
  PEAKS_AND_ZEROS,
  readBell,
  RINGS_AND_TAIL,
  ROUGH,
  SAG,
} from './measured-core.ts';

const capture = driveAndSense();
const { drive, sense } = capture;
const at = (t: number): number => Math.round((t - drive.start) / drive.step);
const fit = (start: CoreParameters, unknowns: typeof RINGS_AND_TAIL | typeof BELL): TraceFit =>
  fitTraces(start, [capture], { unknowns, sigma: 3e-3, maxIterations: 25 });
const rings = fit(ROUGH, RINGS_AND_TAIL);

describe('a measured core under its measured current', () => {
  it('V1: rings with a decaying part fitted to the four tops leave under 4.5 mV rms, and less than one bell', () => {
    expect(rings.rms).toBeLessThan(4.5e-3);
    const bell = fit({ ...ROUGH, ringSpread: 0, decayResistance: 0 }, BELL);
    expect(bell.rms).toBeGreaterThan(1.5 * rings.rms);
    // The preset was fitted to more than this file, with other doubts; it is not to be far off here.
    const preset = modelTrace(CORE_PRESETS['measured-1.3-mm'].parameters, capture);
    const peak = (trace: Float64Array): number =>
      Math.max(...trace.slice(at(1.2e-6), at(2e-6)).map((v) => -v));
    expect(Math.abs(peak(preset) / peak(sense) - 1)).toBeLessThan(0.15);
  });

  it('V1: intervals are told of every unknown, widened for neighbours that miss alike', () => {
    expect(rings.independent).toBeLessThan(rings.samples / 4);
    for (const name of RINGS_AND_TAIL) {
      const { low, high, from } = rings.range[name]!;
      expect(from).toBe('measured');
      expect(low).toBeLessThanOrEqual(rings.parameters[name]);
      expect(high).toBeGreaterThanOrEqual(rings.parameters[name]);
    }
    // One amplitude does not tell threshold from slope: the interval of rho is wide and says so.
    const { low, high } = rings.range.switchingResistance!;
    expect(high / low).toBeGreaterThan(1.5);
  });

  it('V2: the current gives way by half a milliampere for each millivolt of the core, in both directions', () => {
    for (const [peak, without] of PEAKS_AND_ZEROS) {
      // The same pulse with nothing to switch, as long after its start.
      const open = Math.abs(drive.current[at(without)]);
      const missing = open - Math.abs(drive.current[at(peak)]);
      expect(Math.abs(missing / Math.abs(sense[at(peak)]) / 0.5 - 1)).toBeLessThan(0.1);
    }
    // The model's source of finite resistance does the same: what is missing is sag times EMF, one short step late.
    const steps = Float64Array.from({ length: 80 }, (_, k) => -0.595 * Math.min(1, k / 12));
    const start = { phi: rings.parameters.remanentFlux, psi: 0 };
    const answer = coreUnderCurrent(rings.parameters, start, {
      start: 0,
      step: 20e-9,
      current: steps,
      sag: SAG,
    });
    const top = answer.emf.indexOf(Math.min(...answer.emf));
    const missing = answer.current[top] - steps[top];
    expect(Math.abs(missing / (-SAG * answer.emf[top]) - 1)).toBeLessThan(0.1);
  });

  it('V4: every measured bell that ends before its pulse, and the model, has a shape between these ends', () => {
    const [from, to] = [at(1.2e-6), at(2.1e-6)];
    const bells = [
      [sense.slice(from, to), drive.step],
      [rings.captures[0].model.slice(from, to), drive.step],
      ...fullSelects().map((other) => {
        const first = Math.round((0.66e-6 - other.drive.start) / other.drive.step);
        return [other.sense.slice(first, first + 45), other.drive.step] as const;
      }),
    ] as const;
    for (const [trace, step] of bells) {
      const { filled, tenthOverHalf } = readBell(trace, step);
      expect(filled).toBeGreaterThan(0.85);
      expect(filled).toBeLessThan(0.96);
      expect(tenthOverHalf).toBeGreaterThan(1.84);
      expect(tenthOverHalf).toBeLessThan(2.3);
    }
  });

  it('V7: a ZERO under full drive shows its falling tail within 1 mV', () => {
    const { model } = rings.captures[0];
    for (let k = at(8.5e-6); k < at(9.1e-6); k++) expect(Math.abs(model[k] - sense[k])).toBeLessThan(1e-3);
    const mean = (from: number, to: number, of: Float64Array): number =>
      of.slice(at(from), at(to)).reduce((a, b) => a + b, 0) / (at(to) - at(from));
    for (const [from, to] of [
      [8.5e-6, 8.6e-6],
      [8.95e-6, 9.1e-6],
    ] as const)
      expect(Math.abs(mean(from, to, model) - mean(from, to, sense))).toBeLessThan(1e-3);
  });
});
