/**
 * One core fitted to several captures together. The truth is a core of two materials (test/mixed-core.ts), which no core of
 * the model is; what is told of a drive and of a train that the fit has not seen is held against what that core does.
 */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { advanceCore, restState, type CoreState } from '../../engine/core/state.ts';
import { coreDraws } from '../../engine/core/unknowns/core-draws.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import { FitError } from '../../engine/fitting/bench-runs.ts';
import { coreUnderCurrent, type SampledCurrent } from '../../engine/fitting/jig/core-under-current.ts';
import { fitSeveral, type CoreSession } from '../../engine/fitting/jig/fit-several.ts';
import { readCurrent } from '../../engine/fitting/jig/read-current.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import { FULL_DRIVE, mixed, mixedCore } from '../mixed-core.ts';

const truth = mixedCore(3, { outsideDiameter: 508e-6 });
const STEP = 4e-9;
const [ON, OFF] = [0.1e-6, 1.3e-6];
const RISE = 60e-9;

/** A read by one pulse with straight edges, as ampere-turns. */
function readPulse(drive: number): SampledCurrent {
  const at = (t: number): number =>
    Math.min(1, Math.max(0, (t - ON) / RISE)) - Math.min(1, Math.max(0, (t - OFF) / RISE));
  const current = Float64Array.from({ length: 380 }, (_, k) => -drive * at(k * STEP));
  return { start: 0, step: STEP, current };
}

const TRAIN = { width: 0.5e-6, pulses: 1024 };
/** State before a read: a ONE, or a ZERO that was half-written so often. */
const before = (p: CoreParameters, half: number | undefined): CoreState =>
  half === undefined ? restState(p, 1) : advanceCore(p, restState(p, 0), half, TRAIN.width * TRAIN.pulses);

/** V, means over steps. */
const answer = (p: CoreParameters, drive: number, half?: number): Float64Array =>
  coreUnderCurrent(p, before(p, half), readPulse(drive)).emf;

type Captured = CoreSession['captures'][number];
/** As an instrument of this gain shows it: noise of 0.2 mV, current in ampere-turns beside it. */
function captured(drive: number, gain: number, half?: number): Captured {
  const normal = normalDeviates(randomStream(Math.round(drive * 1000), 5));
  const { current } = readPulse(drive);
  const emf = mixed(truth, (p) => answer(p, drive, half));
  const time = Float64Array.from(current, (_, k) => k * STEP);
  const value = time.map((_, k) => {
    const beside = [emf[k - 1], emf[k]].filter((v) => v !== undefined);
    return gain * (beside.reduce((a, b) => a + b, 0) / beside.length + 0.2e-3 * normal());
  });
  return {
    name: `${Math.round(drive * 1000)} mA`,
    bit: half === undefined ? 1 : 0,
    ...(half === undefined ? {} : { train: { drive: half, ...TRAIN } }),
    sense: { time, value },
    current: { time, value: current },
  };
}

const peakOf = (trace: Float64Array): number => trace.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
const session = (gain: number): CoreSession => ({
  captures: [
    captured(FULL_DRIVE, gain),
    captured(0.9 * FULL_DRIVE, gain),
    captured(FULL_DRIVE, gain, 0.55 * FULL_DRIVE),
  ],
});
const fit = fitSeveral(session(1));

describe('one core fitted to several captures', () => {
  it('lies on them, starting from nothing but the captures', () => {
    const greatest = peakOf(mixed(truth, (p) => answer(p, FULL_DRIVE)));
    expect(fit.rms).toBeLessThan(0.04 * greatest);
    expect(fit.shown).toContain('remanentFlux');
    expect(fit.shown).not.toContain('driveTemperatureCoefficient');
    for (const name of fit.unknowns) {
      const { low, high } = fit.core.range[name];
      expect(low).toBeLessThanOrEqual(fit.core.parameters[name]);
      expect(high).toBeGreaterThanOrEqual(fit.core.parameters[name]);
    }
  });

  it('tells of a drive and of a train that it has not seen what holds the truth', () => {
    const { cores } = coreDraws(fit.core, 40, 2);
    expect(cores.length).toBeGreaterThan(30);
    for (const [drive, half] of [
      [1.1 * FULL_DRIVE, undefined],
      [0.82 * FULL_DRIVE, undefined],
      [FULL_DRIVE, 0.5 * FULL_DRIVE],
    ] as const) {
      const real = peakOf(mixed(truth, (p) => answer(p, drive, half)));
      const told = cores.map((p) => peakOf(answer(p, drive, half)));
      expect(Math.min(...told)).toBeLessThan(real);
      expect(Math.max(...told)).toBeGreaterThan(real);
    }
  });

  it('says what one drive without half-selects does not show, and which measurement would', () => {
    const alone = fitSeveral({ captures: [captured(FULL_DRIVE, 1)] });
    for (const name of ['dynamicThreshold', 'coerciveDrive', 'staticKneeWidth'] as const) {
      expect(alone.shown).not.toContain(name);
      expect(alone.core.range[name].from).toBe('assumed');
    }
    expect(alone.notes.join(' ')).toContain('0.8, 0.9, 1.1 and 1.2 of full drive');
    expect(alone.notes.join(' ')).toContain('1,024 half-select pulses');
  });

  it('takes one polarity and one gain for all captures of an instrument', () => {
    const unknowns = ['remanentFlux', 'squareness', 'switchingResistance'];
    const core = fit.file;
    const upright = fitSeveral({ ...session(1), core, unknowns });
    const reversed = fitSeveral({ ...session(-10), core, unknowns, gain: 10 });
    for (const { gain } of reversed.captures) expect(gain).toBeLessThan(0);
    expect(new Set(reversed.captures.map(({ gain }) => gain)).size).toBe(1);
    const { remanentFlux } = reversed.core.parameters;
    expect(Math.abs(remanentFlux / upright.core.parameters.remanentFlux - 1)).toBeLessThan(1e-3);
  });

  it('gives a core that a design takes as it is', () => {
    const { core } = checkDesign({ core: JSON.parse(JSON.stringify(fit.file)) as object });
    expect(core.parameters).toEqual(fit.core.parameters);
    expect(core.range).toEqual(fit.core.range);
    expect(core.test).toEqual(fit.core.test);
  });

  it('refuses in one sentence what cannot be fitted', () => {
    const { current: _, ...bare } = captured(FULL_DRIVE, 1);
    expect(() => fitSeveral({ captures: [bare] })).toThrow(FitError);
    expect(() => fitSeveral({ captures: [bare] })).toThrow('either captured or as pulses');
    const flat = { ...captured(FULL_DRIVE, 1), spans: [{ from: 5e-6, to: 6e-6 }] };
    expect(() => fitSeveral({ captures: [flat] })).toThrow('must lie in the capture');
  });
});

it('full drive, start and rise are read off a captured current', () => {
  const { current } = readPulse(0.6);
  const time = Float64Array.from(current, (_, k) => k * STEP);
  const { fullDrive, start, rise } = readCurrent({ time, value: current.map((i) => i + 0.004) });
  expect(fullDrive).toBeCloseTo(0.6, 3);
  expect(Math.abs(start - ON)).toBeLessThan(1e-9);
  expect(Math.abs(rise / RISE - 1)).toBeLessThan(0.02);
});
