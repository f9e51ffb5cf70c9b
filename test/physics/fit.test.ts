import { describe, expect, test } from 'vitest';
import { applyPatches, type Patch } from '../../engine/base/json-patch.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { rivalWords } from '../../engine/fitting/align/line-up-words.ts';
import { lineUp, readOf } from '../../engine/fitting/align/line-up.ts';
import { LineUpError } from '../../engine/fitting/align/refine-line-up.ts';
import { cutTrace, traceNoise } from '../../engine/fitting/align/trace-tools.ts';
import { FitCancelled, FitError, type BenchProgress } from '../../engine/fitting/bench-runs.ts';
import { compareCapture } from '../../engine/fitting/compare.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import type { FitRequest } from '../../engine/fitting/fit-result.ts';
import { readRanges } from '../../engine/fitting/unknown-ranges.ts';
import { UNKNOWNS, type UnknownName } from '../../engine/fitting/unknown-table.ts';
import { numberAt } from '../../engine/fitting/unknowns.ts';
import { wilsonInterval } from '../../engine/numerics/statistics.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
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
        const line = lineUp(jigSense, trace, { probeGain: 'free' });
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
    expect(Math.abs(lineUp(jigSense, part, { probeGain: 'free' }).delay - bench.delay)).toBeLessThan(0.3e-9);
  });

  const WRITTEN = applyPatches(JIG, [
    {
      path: '/cycle',
      value: { period: '1.6 us', readWidth: '450 ns', gap: '200 ns', writeWidth: '450 ns' },
    },
    { path: '/programme', value: [{ row: 0, column: 0, write: 'one' }] },
  ]);
  const written = (amplitude: string) => {
    const file = applyPatches(
      WRITTEN,
      ['x', 'y'].map((line) => ({ path: `/drive/${line}/writeAmplitude`, value: amplitude })),
    );
    const design = checkDesign(file);
    const run = simulate(design, { contributions: false, estimateError: false });
    return { file, predicted: { time: run.time, value: run.senseVoltage }, read: readOf(design) };
  };

  // The write answers with a bell of its own, upside down: a capture of the read turned round is much like it.
  for (const [what, amplitude] of [
    ['as high as', '370 mA'],
    ['higher than', '420 mA'],
  ] as const) {
    const { file, predicted, read } = written(amplitude);
    for (const [from, to] of [
      [-60, 450],
      [20, 400],
      [100, 300],
      [-60, 1500],
    ] as const) {
      test(`a read seen from ${from} to ${to} ns, either way up, is not taken for a write ${what} it`, () => {
        for (const gain of [1, -1]) {
          for (const delay of [-7e-6, 0, 3.3e-6]) {
            const whole = record(file, [], { ...bench, gain, delay });
            const line = lineUp(predicted, cutTrace(whole, delay + from * 1e-9, delay + to * 1e-9), { read });
            expect(Math.abs(line.delay - delay)).toBeLessThan(0.5e-9);
            expect(line.polarity).toBe(gain);
            expect(line.rival).toBeUndefined();
          }
        }
      });
    }
  }

  test('a capture of the write alone: found where any part will do, told as a rival where a read is due', () => {
    const { file, predicted, read } = written('420 mA');
    const trace = cutTrace(record(file, [], { ...bench, delay: 0 }), 600e-9, 1300e-9);
    const any = lineUp(predicted, trace, { read, part: 'any' });
    expect(Math.abs(any.delay)).toBeLessThan(0.5e-9);
    expect(any.polarity).toBe(1);
    const asRead = lineUp(predicted, trace, { read });
    expect(asRead.polarity).toBe(-1);
    expect(Math.abs(asRead.rival!.delay)).toBeLessThan(2e-9);
    expect(rivalWords(asRead)).toMatch(
      /^It lies about as well 6\d\d ns earlier on its own time, with the other/u,
    );
    // Told how the probe lies, any part of the cycle is found without a rival.
    const equal = written('370 mA');
    const alone = cutTrace(record(equal.file, [], { ...bench, delay: 0 }), 600e-9, 1300e-9);
    const told = { read: equal.read, part: 'any' } as const;
    expect(lineUp(equal.predicted, alone, told).rival).toBeDefined();
    const known = lineUp(equal.predicted, alone, { ...told, polarity: 'as-predicted' });
    expect(Math.abs(known.delay)).toBeLessThan(0.5e-9);
    expect(known.rival).toBeUndefined();
    const turned = { time: alone.time, value: alone.value.map((v) => -v) };
    expect(lineUp(equal.predicted, turned, { ...told, polarity: 'reversed' }).polarity).toBe(-1);
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
    const c = compareCapture(jigRun, trace, lineUp(jigSense, trace, { probeGain: 'free' }));
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
    const line = {
      ...lineUp(jigSense, trace, { probeGain: 'free' }),
      delay: bench.delay,
      gain: 1,
      offset: bench.offset,
    };
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
      ...lineUp(jigSense, trace, { probeGain: 'free' }),
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
    expect(result.statements.join(' ')).toContain('mutual ran to its upper bound, 10 nH, and was held there');
  });

  test('a bound that was asked for lets it go on, and a start of its own is used', () => {
    const strong = applyPatches(JIG, [
      { path: '/wire/mutualX', value: '18 nH' },
      { path: '/wire/mutualY', value: '18 nH' },
    ]);
    const result = fit({
      captures: [{ label: 'strong', trace: record(strong, [], bench) }],
      unknowns: ['mutual'],
      ranges: readRanges({ mutual: { start: '5 nH', high: '20 nH' } }),
    });
    const [mutual] = result.unknowns;
    expect(mutual.atBound).toBeUndefined();
    expect(mutual.start).toBeCloseTo(5e-9, 20);
    expect(mutual.bounds.low).toBe(0);
    expect(mutual.bounds.high).toBeCloseTo(20e-9, 20);
    expect(Math.abs(mutual.value / 18e-9 - 1)).toBeLessThan(0.01);
    expect(result.outcome).toBe('converged');
    // The same in a small room is held, and says at which value.
    const held = fit({
      captures: [{ label: 'strong', trace: record(strong, [], bench) }],
      unknowns: ['mutual'],
      ranges: readRanges({ mutual: { low: '0.2 nH', high: '0.9 nH' } }),
    });
    expect(held.statements.join(' ')).toContain('mutual ran to its upper bound, 900 pH');
  });

  test('without unknowns a capture is only lined up and compared, and the design is left as it was', () => {
    const trace = record(JIG, [], bench);
    const { outcome, good, design, unknowns, captures } = fit({
      captures: [{ label: 'one', trace }],
      unknowns: [],
    });
    expect(outcome).toBe('converged');
    expect(good).toBe(true);
    expect(unknowns).toEqual([]);
    expect(design).toEqual(JIG);
    expect(Math.abs(captures[0].lineUp.delay - bench.delay)).toBeLessThan(0.2e-9);
  });

  test('work that is cancelled gives nothing back, and tells its progress until then', () => {
    const told: BenchProgress[] = [];
    let stop = false;
    expect(() =>
      fit({
        maxIterations: 17,
        cancelled: () => stop,
        onProgress: (progress) => {
          told.push(progress);
          if (progress.done === 2) stop = true;
        },
      }),
    ).toThrow(FitCancelled);
    const last = told.at(-1)!;
    expect(last).toMatchObject({ done: 2, planned: 17 });
    expect(told.map(({ runs }) => runs)).toEqual(told.map(({ runs }) => runs).toSorted((a, b) => a - b));
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
    expect(refused({ unknowns: Object.keys(UNKNOWNS).slice(0, 13) as UnknownName[] }).message).toContain(
      'at most 12 unknowns; received 13',
    );
    expect(refused({ captures: [] }).field).toBe('/captures');
    expect(refused({ unknowns: ['mutual', 'mutualX'] }).message).toBe(
      'Two unknowns must not move the same field; received mutual and mutualX, which both move /wire/mutualX: leave one out.',
    );
    expect(refused({ unknowns: ['flux' as UnknownName] }).message).toContain('received "flux"');
    const ranged = (unknowns: UnknownName[], asked: Parameters<typeof readRanges>[0]) =>
      refused({
        unknowns,
        get ranges() {
          return readRanges(asked);
        },
      });
    expect(ranged(['coreFlux'], { coreFlux: { low: '3 nWb', high: '2 nWb' } }).message).toBe(
      'The bounds of coreFlux must leave room between them; received 3 nWb to 2 nWb: put the lower one below the upper one.',
    );
    expect(ranged(['coreFlux'], { coreFlux: { start: '4 nWb', high: '3 nWb' } })).toMatchObject({
      field: '/ranges/coreFlux/start',
      message:
        'The start of coreFlux must lie within its bounds, 540 pWb to 3 nWb; received 4 nWb: move it, or widen them.',
    });
    expect(ranged(['coreFlux'], { coreRate: { low: '0.1 ohm' } }).message).toContain(
      'coreRate is not among coreFlux: choose it too',
    );
    expect(ranged(['coreFlux'], { coreFlux: { low: '3 V' } }).message).toContain(
      'The lower bound of coreFlux must be a quantity in Wb, but',
    );
    expect(ranged(['coreFlux'], { coreFlux: { low: 3 } }).message).toContain('received the bare number 3');
    expect(ranged(['coreSquareness'], { coreSquareness: { high: 1.2 } })).toMatchObject({
      field: '/ranges/coreSquareness/high',
      message: expect.stringContaining('The upper bound of coreSquareness, 1.2, makes no valid design:'),
    });
    expect(ranged(['coreFlux'], { flux: { low: '3 nWb' } }).message).toContain('received "flux"');
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
