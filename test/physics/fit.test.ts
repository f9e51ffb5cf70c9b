import { describe, expect, test } from 'vitest';
import { checkDesign } from '../../engine/check-design.ts';
import { compareCapture } from '../../engine/fitting/compare.ts';
import { FitError, fitDesign } from '../../engine/fitting/fit-design.ts';
import type { FitRequest } from '../../engine/fitting/fit-design.ts';
import { LineUpError, lineUp } from '../../engine/fitting/line-up.ts';
import { traceNoise } from '../../engine/fitting/trace-tools.ts';
import { numberAt } from '../../engine/fitting/unknowns.ts';
import type { UnknownName } from '../../engine/fitting/unknowns.ts';
import { wilsonInterval } from '../../engine/numerics/statistics.ts';
import { simulate } from '../../engine/simulate.ts';
import { applyPatches } from '../../engine/studies/json-patch.ts';
import type { Patch } from '../../engine/studies/study-shape.ts';
import { COVERED, JIG, coverage, record } from './fit-helpers.ts';

const bench = { seed: 1, index: 0, noise: 0.3e-3, step: 0.1e-3, delay: 1.234e-6, offset: 2e-3 };
const jigRun = simulate(checkDesign(JIG), { estimateError: false });
const jigSense = { time: jigRun.time, value: jigRun.senseVoltage };
const planted = applyPatches(JIG, [
  { path: '/core/parameters/remanentFlux', value: '3 nWb' },
  { path: '/core/parameters/switchingResistance', value: '190 mohm' },
]);

/** The same with room for slow edges. */
const ROOMY = applyPatches(JIG, [
  { path: '/cycle', value: { period: '1.6 us', readWidth: '450 ns', gap: '300 ns', writeWidth: '450 ns' } },
]);

describe('noise of a capture', () => {
  test('is found to a few per cent under a strong signal', () => {
    for (const noise of [0.2e-3, 1e-3, 5e-3]) {
      const { sigma } = traceNoise(record(JIG, [], { ...bench, noise, step: 0 }).value);
      // 480 samples: the median of correlated differences scatters by some 5 %.
      expect(Math.abs(sigma / noise - 1)).toBeLessThan(0.15);
    }
  });

  test('is never under a quantisation step over sqrt(12), and the step is found', () => {
    const { sigma, step } = traceNoise(record(JIG, [], { ...bench, noise: 0, step: 1e-3 }).value);
    expect(step).toBeCloseTo(1e-3, 9);
    expect(sigma).toBeGreaterThanOrEqual(1e-3 / Math.sqrt(12) - 1e-12);
  });
});

describe('line-up', () => {
  test('finds delay, gain, offset and polarity of a noisy capture wherever its zero lies', () => {
    for (const delay of [-3e-6, -40e-9, 0, 77.7e-9, 5e-3]) {
      for (const gain of [1, -1, 0.1, -10]) {
        const trace = record(JIG, [], {
          ...bench,
          noise: 0.3e-3 * Math.abs(gain),
          step: 0,
          delay,
          gain,
          offset: 3e-3,
        });
        const line = lineUp(jigSense, trace);
        expect(line.polarity).toBe(Math.sign(gain));
        // The slope of some 1 mV/ns against 0.3 mV of noise over hundreds of samples: well under a nanosecond.
        expect(Math.abs(line.delay - delay)).toBeLessThan(0.2e-9);
        expect(line.gain / gain).toBeCloseTo(1, 1.5);
        expect(Math.abs(line.offset - 3e-3)).toBeLessThan(0.3e-3 * Math.abs(gain));
      }
    }
  });

  test('a capture of a part of the read is lined up too', () => {
    const whole = record(JIG, [], bench);
    const part = { time: whole.time.slice(10, 250), value: whole.value.slice(10, 250) };
    expect(Math.abs(lineUp(jigSense, part).delay - bench.delay)).toBeLessThan(0.3e-9);
  });

  test('a flat capture is refused with a remedy', () => {
    const flat = {
      time: Float64Array.from({ length: 100 }, (_, i) => i * 1e-9),
      value: new Float64Array(100),
    };
    expect(() => lineUp(jigSense, flat)).toThrow(LineUpError);
    expect(() => lineUp(jigSense, flat)).toThrow('flat where they overlap; capture the part around a read');
  });
});

describe('comparison', () => {
  test('says that noise alone is left when the prediction is right', () => {
    const trace = record(JIG, [], bench);
    const c = compareCapture(jigRun, trace, lineUp(jigSense, trace));
    expect(c.verdict).toBe('noise alone');
    expect(c.reducedChiSquare).toBeLessThan(1.3);
    c.difference.forEach((d, i) => expect(d).toBeCloseTo(c.measured[i] - c.predicted[i], 15));
  });

  test('a misfit of one contribution is named first, with its size', () => {
    const more = applyPatches(JIG, [
      { path: '/wire/mutualX', value: '0.8 nH' },
      { path: '/wire/mutualY', value: '0.8 nH' },
    ]);
    const trace = record(more, [], bench);
    const line = { ...lineUp(jigSense, trace), delay: bench.delay, gain: 1, offset: bench.offset };
    const c = compareCapture(jigRun, trace, line);
    expect(c.verdict).toBe('poor');
    expect(c.misfitLooksLike[0].cause).toBe('directCoupling');
    // 0.8 nH against 0.5 nH on two lines; the capacitive share of the coupling did not grow.
    expect(c.misfitLooksLike[0].change).toBeGreaterThan(0.4);
    expect(c.misfitLooksLike[0].change).toBeLessThan(0.65);
  });

  test('a capture that is only late is said to be later, by how much', () => {
    const trace = record(JIG, [], bench);
    const c = compareCapture(jigRun, trace, {
      ...lineUp(jigSense, trace),
      delay: bench.delay - 1e-9,
      gain: 1,
      offset: bench.offset,
    });
    expect(c.misfitLooksLike[0].cause).toBe('later');
    expect(c.misfitLooksLike[0].change * 1e9).toBeCloseTo(1, 0);
  });
});

describe('fit of a design', () => {
  const fit = (request: Partial<FitRequest>) =>
    fitDesign({
      design: JIG,
      captures: [{ label: 'one', trace: record(planted, [], bench) }],
      unknowns: ['coreFlux', 'coreRate'],
      ...request,
    });

  test('finds planted parameters, calls the fit good, and writes a design that remembers where it came from', () => {
    const result = fit({});
    expect(result.outcome).toBe('converged');
    expect(result.good).toBe(true);
    const [flux, rate] = result.unknowns;
    expect(Math.abs(flux.value / 3e-9 - 1)).toBeLessThan(0.01);
    expect(Math.abs(rate.value / 0.19 - 1)).toBeLessThan(0.01);
    const design = checkDesign(result.design);
    expect(design.core.parameters.remanentFlux).toBeCloseTo(flux.value, 20);
    expect(design.core.parameters.switchingResistance).toBe(rate.value);
    expect(design.note).toBe(
      'Invented. Fitted: coreFlux, coreRate; from "one" (480 samples); starting from "jig for fits"; converged, noise alone explains what is left.',
    );
  });

  test('the fitted core predicts another, larger build better than the core it started from', () => {
    const larger: Patch[] = [
      { path: '/mat', value: { rows: 4, columns: 4, mats: 1, pitch: '2 mm' } },
      { path: '/selected', value: { row: 1, column: 2, bit: 1 } },
      { path: '/programme', value: [{ row: 1, column: 2, write: 'none' }] },
    ];
    const trace = (file: typeof JIG) =>
      simulate(checkDesign(applyPatches(file, larger)), { contributions: false, estimateError: false })
        .senseVoltage;
    const truth = trace(planted);
    const far = (other: Float64Array) => Math.hypot(...other.map((v, i) => v - truth[i]));
    expect(far(trace(fit({}).design))).toBeLessThan(0.05 * far(trace(JIG)));
  });

  test('threshold and rate need two drives: one capture tells them badly, two tell them well', () => {
    const truth = applyPatches(planted, [
      { path: '/core/parameters/dynamicThreshold', value: '430 mA' },
      { path: '/core/parameters/coerciveDrive', value: `${(0.5 * 430) / 0.45} mA` },
      { path: '/core/parameters/staticKneeWidth', value: `${(0.03 * 430000) / 0.45} uA` },
      { path: '/core/parameters/dynamicKneeWidth', value: `${(0.03 * 430000) / 0.45} uA` },
      { path: '/core/parameters/decayThreshold', value: `${(0.4 * 430) / 0.45} mA` },
    ]);
    const more = ['x', 'y'].map((line) => ({ path: `/drive/${line}/readAmplitude`, value: '420 mA' }));
    const one = { label: '740 mA', trace: record(truth, [], bench) };
    const two = {
      label: '840 mA',
      trace: record(truth, more, { ...bench, index: 1, delay: -2e-6 }),
      changes: more,
    };
    const unknowns: UnknownName[] = ['coreFlux', 'coreRate', 'coreThreshold'];
    const alone = fit({ unknowns, captures: [one] });
    const both = fit({ unknowns, captures: [one, two] });
    expect(both.good).toBe(true);
    const found = both.unknowns[2];
    expect(found.interval.low).toBeLessThan(0.43);
    expect(found.interval.high).toBeGreaterThan(0.43);
    expect(Math.abs(alone.correlations[1][2])).toBeGreaterThan(Math.abs(both.correlations[1][2]));
    expect(alone.unknowns[2].standardError).toBeGreaterThan(2 * found.standardError);
  });

  test('amplifier gain and a free probe gain cannot be told apart: singular, and said in words', () => {
    const trace = record(JIG, [], { ...bench, observed: 'amplifier', noise: 5e-3, step: 0 });
    const result = fit({
      captures: [{ label: 'output', trace, observed: 'amplifier', probeGain: 'free' }],
      unknowns: ['amplifierGain'],
    });
    expect(result.outcome).toBe('singular');
    expect(result.unknowns[0].standardError).toBe(Infinity);
    expect(result.undetermined.join(' ')).toContain('The captures say nothing about amplifierGain');
    expect(result.statements.join(' ')).toContain('cannot be told from these captures');
  });

  test('a fit with the wrong unknowns is reported as a bad one', () => {
    const slow = applyPatches(
      ROOMY,
      ['x', 'y'].map((line) => ({ path: `/drive/${line}/rise`, value: '120 ns' })),
    );
    const result = fit({
      design: ROOMY,
      captures: [{ label: 'slow edge', trace: record(slow, [], bench) }],
      unknowns: ['mutual'],
    });
    expect(result.good).toBe(false);
    expect(result.reducedChiSquare).toBeGreaterThan(5);
    expect(result.statements.join(' ')).toContain('the prediction does not fit');
  });

  test('an unknown that would have to leave its bounds is held there and said to be', () => {
    // Planted 18 nH, where a fit from 0.5 nH may go as far as 10 nH.
    const strong = applyPatches(JIG, [
      { path: '/wire/mutualX', value: '18 nH' },
      { path: '/wire/mutualY', value: '18 nH' },
    ]);
    const result = fit({
      captures: [{ label: 'strong', trace: record(strong, [], bench) }],
      unknowns: ['mutual'],
    });
    expect(result.unknowns[0].atBound).toBe('upper');
    expect(result.unknowns[0].value).toBeCloseTo(10e-9, 15);
    expect(result.statements.join(' ')).toContain('mutual ran to its upper bound');
  });

  test('what cannot be tried is refused in one sentence', () => {
    const refused = (request: Partial<FitRequest>): FitError => {
      try {
        fit(request);
      } catch (error) {
        if (error instanceof FitError) return error;
        throw error;
      }
      throw new Error('nothing was thrown');
    };
    expect(refused({ unknowns: [] }).message).toContain('1 to 12 unknowns; received 0');
    expect(refused({ captures: [] }).field).toBe('/captures');
    expect(refused({ unknowns: ['mutual', 'mutualX'] }).message).toBe(
      'Two unknowns must not move the same field; received mutual and mutualX, which both move /wire/mutualX: leave one out.',
    );
    expect(refused({ unknowns: ['flux' as UnknownName] }).message).toContain('received "flux"');
    const open = applyPatches(JIG, [{ path: '/terminations/b', value: 'open' }]);
    expect(refused({ design: open, unknowns: ['terminationB'] }).message).toContain(
      'must start from a finite number',
    );
  });

  test('two runs give the same bytes', () => {
    expect(JSON.stringify(fit({}))).toBe(JSON.stringify(fit({})));
  });
});

describe('intervals', () => {
  test('hold the planted value as often as 95 % allows, in 30 captures with noise and quantisation', () => {
    const hits = coverage(30);
    for (const name of COVERED) {
      // The soak test asks the full figure of 200; 30 captures can only rule out a gross error.
      expect(wilsonInterval(hits[name], 30, 0.999).high).toBeGreaterThan(0.95);
    }
    expect(numberAt(checkDesign(JIG), '/wire/mutualX')).toBe(0.5e-9);
  });
});
