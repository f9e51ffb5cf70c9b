/**
 * Handbook values into parameters and back (C11), over the handbook files, over drawn handbooks, and over drawn
 * cores whose parameters must come back; refusals by their sentence.
 */
import { readdirSync, readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { invertBell, peakTime, switchingTime } from '../../engine/core/closed-forms.ts';
import { pulseDrive } from '../../engine/core/drive.ts';
import { answersOfCore } from '../../engine/core/handbook/answers.ts';
import { checkHandbook } from '../../engine/core/handbook/check-handbook.ts';
import { compareAnswers, coreReport } from '../../engine/core/handbook/core-report.ts';
import { coreFromHandbook } from '../../engine/core/handbook/invert.ts';
import { HandbookError, type CoreHandbook } from '../../engine/core/handbook/values.ts';
import { readAnswer } from '../../engine/core/measure.ts';
import { elasticPerFlux, saturationFlux } from '../../engine/core/model.ts';
import { runCore } from '../../engine/core/single.ts';
import { restState } from '../../engine/core/state.ts';
import { published, relative, testCore } from './core-helpers.ts';

const folder = new URL('../../fixtures/cores/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
const raw = (name: string): Record<string, unknown> =>
  JSON.parse(readFileSync(new URL(name, folder), 'utf8'));

/** Invented. */
const bench: CoreHandbook = {
  fullDrive: 0.74,
  rise: 50e-9,
  peakOne: 50e-3,
  peakTime: 125e-9,
  switchTime: 235e-9,
  outsideDiameter: 0.508e-3,
  insideDiameter: 0.3048e-3,
  height: 0.127e-3,
};

/** uV1, t_p, t_s read off a trace with a step 40 times finer than the one used to fit. */
function readFinely(h: CoreHandbook): { peak: number; peakTime: number; switchTime: number } {
  const p = coreFromHandbook(h).parameters;
  const end = 2 * h.switchTime;
  const pulse = { amplitude: -h.fullDrive, start: 0, width: end, rise: h.rise, fall: h.rise };
  const trace = runCore(p, pulseDrive([pulse], end), { step: end / 20_000, initial: restState(p, 1) });
  return readAnswer(trace, 0, h.rise, end);
}

describe('handbook values to parameters', () => {
  it.each(files)('C11: %s comes back within one per cent', (name) => {
    const { handbook } = checkHandbook(raw(name));
    const got = readFinely(handbook);
    expect(relative(got.peak, handbook.peakOne)).toBeLessThan(published.C11.tolerance);
    expect(relative(got.peakTime, handbook.peakTime)).toBeLessThan(published.C11.tolerance);
    expect(relative(got.switchTime, handbook.switchTime)).toBeLessThan(published.C11.tolerance);
  });

  it.each(files)('%s names a source and a grade for every value', (name) => {
    const file = raw(name);
    const { from } = checkHandbook(file);
    expect(from.name).not.toBe('');
    expect(from.source).not.toBe('');
    const values = Object.keys(file).filter((k) => !['name', 'source', 'note', 'grades'].includes(k));
    expect(Object.keys(from.grades).sort()).toEqual(values.sort());
    for (const grade of Object.values(from.grades))
      expect(grade).toMatch(/^(R2?: .+|M: .*preset only.*|invented)$/u);
  });

  it('C11: drawn handbooks come back, or are refused with one sentence', () => {
    let fitted = 0;
    let refused = 0;
    fc.assert(
      fc.property(
        fc.record({
          fullDrive: fc.double({ min: 0.2, max: 1.5, noNaN: true }),
          peakOne: fc.double({ min: 5e-3, max: 0.3, noNaN: true }),
          rise: fc.double({ min: 0.05, max: 0.6, noNaN: true }),
          peak: fc.double({ min: 0.3, max: 0.65, noNaN: true }),
          switchTime: fc.double({ min: 80e-9, max: 2e-6, noNaN: true }),
          edges: fc.option(fc.double({ min: 0.02, max: 0.08, noNaN: true }), { nil: undefined }),
          ratio: fc.double({ min: 1, max: 1.5, noNaN: true }),
        }),
        (d) => {
          const tP = d.peak * d.switchTime;
          const edges =
            d.edges === undefined
              ? {}
              : { halfSelectZero: d.edges * d.peakOne, halfSelectOne: d.ratio * d.edges * d.peakOne };
          const h = {
            ...bench,
            fullDrive: d.fullDrive,
            peakOne: d.peakOne,
            rise: d.rise * tP,
            peakTime: tP,
            switchTime: d.switchTime,
            ...edges,
          };
          try {
            const { parameters: p, achieved } = coreFromHandbook(h);
            fitted++;
            for (const { wanted, deviation } of compareAnswers(h, achieved)) {
              if (wanted !== undefined) expect(Math.abs(deviation!)).toBeLessThan(published.C11.tolerance);
            }
            expect(p.squareness).toBeLessThan(1);
            expect(p.coerciveDrive).toBeGreaterThanOrEqual(6 * p.staticKneeWidth * (1 - 1e-12));
            expect(p.dynamicThreshold).toBeGreaterThanOrEqual(10 * p.dynamicKneeWidth * (1 - 1e-12));
            expect(p.elasticSaturated).toBeGreaterThan(0);
            expect(-elasticPerFlux(p, h.fullDrive)).toBeLessThan(1);
          } catch (error) {
            if (!(error instanceof HandbookError)) throw error;
            refused++;
            expect(error.message).toMatch(/ must .+, but .+: .+\.$/u);
          }
        },
      ),
      { numRuns: 150, seed: 11 },
    );
    expect(fitted).toBeGreaterThan(75);
    expect(fitted + refused).toBeGreaterThanOrEqual(150);
  });

  it('a core whose thresholds are known comes back with its own parameters', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-9, max: 20e-9, noNaN: true }),
        fc.double({ min: 0.86, max: 0.97, noNaN: true }),
        fc.double({ min: 0.1, max: 0.4, noNaN: true }),
        (remanentFlux, squareness, rho) => {
          // The knees and the bend that the inversion assumes at 740 mA, so that nothing else is unknown.
          const core = {
            ...testCore,
            remanentFlux,
            squareness,
            switchingResistance: rho,
            staticKneeWidth: 0.0148,
            dynamicKneeWidth: 0.0148,
            elasticBend: 0.074,
            elasticSaturated: 0.25 * remanentFlux,
            elasticKnee: 0.3 * remanentFlux,
            decayResistance: 0,
          };
          const slow = remanentFlux / (rho * 0.28);
          const h = { ...bench, rise: Math.min(1.5 * slow, 60e-9), switchTime: 12 * slow };
          const answers = answersOfCore(core, h);
          fc.pre(answers.peakTime > 1.05 * h.rise && Number.isFinite(answers.switchTime));
          const { parameters } = coreFromHandbook({
            ...h,
            peakOne: answers.peakOne,
            peakTime: answers.peakTime,
            switchTime: answers.switchTime,
            halfSelectOne: answers.halfSelectOne,
            halfSelectZero: answers.halfSelectZero,
            dynamicThreshold: core.dynamicThreshold,
            coerciveDrive: core.coerciveDrive,
          });
          expect(relative(parameters.remanentFlux, remanentFlux)).toBeLessThan(0.01);
          expect(relative(saturationFlux(parameters), saturationFlux(core))).toBeLessThan(0.01);
          expect(relative(parameters.switchingResistance, rho)).toBeLessThan(0.01);
          expect(relative(parameters.elasticKnee, core.elasticKnee)).toBeLessThan(0.01);
          expect(relative(parameters.elasticSaturated, core.elasticSaturated)).toBeLessThan(0.01);
        },
      ),
      { numRuns: 60, seed: 3 },
    );
  });

  it('closed forms: inverting a bell and forming it again are each other’s inverse', () => {
    const bell = invertBell(0.05, 88e-9, 197e-9, 0.98);
    expect(relative(peakTime(bell), 88e-9)).toBeLessThan(1e-12);
    expect(relative(switchingTime(bell), 197e-9)).toBeLessThan(1e-12);
  });

  it('the peak of the EMF is v_p (1 - b g/phi_r), so v_p is found above uV1', () => {
    const h = { ...bench, halfSelectOne: 7e-3, halfSelectZero: 4e-3 };
    const p = coreFromHandbook(h).parameters;
    const vP = p.switchingResistance * (h.fullDrive - p.dynamicThreshold);
    expect(relative(vP * (1 + elasticPerFlux(p, h.fullDrive)), h.peakOne)).toBeLessThan(1e-4);
    expect(vP).toBeGreaterThan(1.03 * h.peakOne);
  });

  it('edge outputs, or dVz alone, come back too', () => {
    const both = { ...bench, halfSelectOne: 6e-3, halfSelectZero: 5e-3 };
    const a = coreFromHandbook(both).achieved;
    expect(relative(a.halfSelectOne, 6e-3)).toBeLessThan(published.C11.tolerance);
    expect(relative(a.halfSelectZero, 5e-3)).toBeLessThan(published.C11.tolerance);
    const alone = coreFromHandbook({ ...bench, disturbedZero: 9e-3 }).achieved;
    expect(relative(alone.disturbedZero, 9e-3)).toBeLessThan(published.C11.tolerance);
  });

  it('says how wide the answer is without a second drive and a disturbed reading, and no more once they are given', () => {
    const told = (h: CoreHandbook): string[] => coreReport(h).notes.filter((note) => note.startsWith('No '));
    const [second, disturb] = told(bench);
    expect(second).toMatch(
      /^No peak at a second drive was given .* give \d+\.\d to \d+\.\d mV at \d+ mA\.$/u,
    );
    const [low, high] = /give (\S+) to (\S+) mV/u.exec(second!)!.slice(1).map(Number);
    expect(high! / low!).toBeGreaterThan(1.15);
    expect(low!).toBeGreaterThan(1e3 * bench.peakOne);
    expect(disturb).toContain('1,024 half-select pulses');
    const { fullDrive, peakOne } = bench;
    expect(told({ ...bench, secondDrive: 1.1 * fullDrive, secondPeak: 1.3 * peakOne }).join()).toMatch(
      /^No disturbed reading[^;]*\.$/u,
    );
    expect(told({ ...bench, dynamicThreshold: 0.5, coerciveDrive: 0.5 })).toEqual([]);
  });

  it('every assumption is told in one sentence', () => {
    const { notes } = coreFromHandbook(bench);
    expect(notes.length).toBe(6);
    for (const note of notes) expect(note).toMatch(/^[^.]+(\d\.\d+[^.]*)*\.$/u);
    const full = {
      ...bench,
      disturbRatio: 0.6,
      halfSelectOne: 6e-3,
      halfSelectZero: 5e-3,
      dynamicThreshold: 0.5,
      coerciveDrive: 0.5,
      driveTemperatureCoefficient: -0.005,
      fluxTemperatureCoefficient: -0.001,
    };
    const { notes: least, parameters } = coreFromHandbook(full);
    expect(least.length).toBe(1);
    expect(least[0]).toContain('Knee widths (14.8 mA static, 14.8 mA dynamic) and elastic bend (74 mA)');
    expect(parameters.staticKneeWidth).toBeCloseTo(0.0148, 12);
  });
});

const refusal = (change: Partial<CoreHandbook>): string => {
  try {
    coreFromHandbook({ ...bench, ...change });
  } catch (error) {
    if (error instanceof HandbookError) return error.message;
    throw error;
  }
  return 'accepted';
};

describe('refusals', () => {
  it.each([
    [
      { peakTime: 240e-9 },
      'switchTime must be later than peakTime (240 ns), but is 235 ns: it runs from the same instant to a tenth of the peak on the fall.',
    ],
    [
      { peakTime: 40e-9 },
      'peakTime must be later than the end of the rise (50 ns), but is 40 ns: measure with a faster edge.',
    ],
    [
      { peakTime: 200e-9 },
      'peakTime must lie where a bell with squareness 0.5 to 0.999 can peak, but 200 ns is too late for a switchTime of 235 ns and a rise of 50 ns: measure both again from the start of the rise.',
    ],
    [
      { switchTime: 900e-9 },
      'peakTime must lie where a bell with squareness 0.5 to 0.999 can peak, but 125 ns is too early for a switchTime of 900 ns and a rise of 50 ns: measure both again from the start of the rise.',
    ],
    [{ peakOne: -50e-3 }, 'peakOne must be greater than 0, but is -50 mV: give a magnitude.'],
    [
      { disturbRatio: 0.95 },
      'disturbRatio must be between 0.4 and 0.8, but is 0.95: it is the half-select current over the full drive.',
    ],
    [
      { dynamicThreshold: 0.74 },
      'dynamicThreshold must be under 95 % of fullDrive (703 mA), but is 740 mA: the core would hardly switch.',
    ],
    [
      { halfSelectOne: 5e-3 },
      'halfSelectZero must be given together with its partner, but is missing: give both or neither.',
    ],
    [
      { halfSelectOne: 4e-3, halfSelectZero: 5e-3 },
      'halfSelectOne must be at least halfSelectZero (5 mV), but is 4 mV: a half-selected ONE answers more than a ZERO.',
    ],
    [
      { rise: 0, disturbedZero: 5e-3 },
      'rise must be greater than 0 ns when half-select outputs or disturbedZero are given, but is 0 ns: the output on an edge means nothing without the edge.',
    ],
    [
      { driveTemperatureCoefficient: -0.5 },
      'driveTemperatureCoefficient must be between -1 and +1 %/K, but is -50 %/K: give the change of one kelvin over the value at 25 °C.',
    ],
    [
      { halfSelectOne: 30e-3, halfSelectZero: 0.1e-3 },
      'halfSelectZero must leave a positive inductance far into the stored state, but 0.1 mV beside 30 mV for a ONE does not: measure both again.',
    ],
    [
      { halfSelectOne: 150e-3, halfSelectZero: 50e-3 },
      'halfSelectOne must exceed halfSelectZero by so little that a core at full drive loses under half its EMF to the elastic part, but is 150 mV beside 50 mV: measure both again.',
    ],
    [
      { coerciveDrive: 0.72 },
      'coerciveDrive must be under 95 % of fullDrive (703 mA), but is 720 mA: the core would hardly switch.',
    ],
    [{ rise: -1e-9 }, 'rise must be 0 ns or more, but is -1 ns: give the 0 to 100 % time.'],
    [
      { insideDiameter: 0.6e-3 },
      'outsideDiameter must be greater than insideDiameter (0.6 mm), but is 0.508 mm: exchange the two.',
    ],
  ])('%o is refused in one sentence', (change, sentence) => {
    expect(refusal(change)).toBe(sentence);
  });

  it('a handbook file is refused with a pointer to the field', () => {
    const good = raw('core-20-12-5-mil.json');
    const said = (change: Record<string, unknown>): [string, string] => {
      try {
        checkHandbook({ ...good, ...change });
      } catch (error) {
        if (error instanceof HandbookError) return [error.field, error.message];
        throw error;
      }
      return ['', 'accepted'];
    };
    expect(said({})).toEqual(['', 'accepted']);
    expect(said({ rise: 50 })).toEqual([
      '/rise',
      'rise must be a time from 0.1 ns to 1 ms, but is 50, a bare number without a unit; write for example "50 ns".',
    ]);
    expect(said({ peakOne: undefined })[0]).toBe('/peakOne');
    expect(said({ peakOne: '50 ns' })[0]).toBe('/peakOne');
    expect(said({ peakOne: '50 ns' })[1]).toContain(
      'peakOne must be a voltage from 10 uV to 100 V, but is "50 ns", a time;',
    );
    expect(said({ 'strobe/x': 1 })[0]).toBe('/strobe~1x');
    expect(said({ peakOn: '50 mV' })[1]).toBe(
      'A handbook must hold known fields only, but has "peakOn": "peakOne" is one.',
    );
    expect(said({ height: '5 m' })[1]).toBe(
      'height must be a length from 0.05 mm to 50 mm, but is "5 m"; choose at most 50 mm.',
    );
    expect(said({ grades: { rise: 3 } })[0]).toBe('/grades/rise');
    expect(() => checkHandbook(null)).toThrow('A handbook must be a JSON object, but is null');
    expect(() => checkHandbook([])).toThrow('A handbook must be a JSON object, but is a list of 0');
  });
});

describe('core report', () => {
  it('sets wanted beside achieved and carries traces, loops and geometry', () => {
    const report = coreReport({ ...bench, halfSelectOne: 6e-3, halfSelectZero: 5e-3 });
    const byName = new Map(report.comparisons.map((c) => [c.quantity, c]));
    expect(byName.get('peakOne')!.wanted).toBe(50e-3);
    expect(Math.abs(byName.get('peakOne')!.deviation!)).toBeLessThan(0.01);
    expect(byName.get('disturbedOne')!.wanted).toBeUndefined();
    expect(report.traces.one.time.length).toBe(report.traces.one.emf.length);
    const answer = -Math.min(...report.traces.one.emf);
    expect(relative(answer, 50e-3)).toBeLessThan(0.01);
    expect(Math.max(...report.loops.static.phi)).toBeCloseTo(report.parameters.remanentFlux, 12);
    expect(report.geometry.fullField.inside.oersted).toBeGreaterThan(
      report.geometry.fullField.outside.oersted,
    );
  });
});
