import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { mean, normalUpper, standardDeviation, wilsonInterval } from '../../../engine/numerics/statistics.ts';
import { randomStream } from '../../../engine/numerics/random.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { formatEstimate } from '../../../engine/studies/shared/format-estimate.ts';
import { evaluatePoint, openDesign, planStudy, summarise } from '../../../engine/studies/study.ts';
import { drawCores, drawShared } from '../../../engine/studies/tolerance/draw.ts';
import type { StudyResult } from '../../../engine/studies/shared/shape.ts';
import { makeBuild, readMargin } from '../../../engine/studies/tolerance/read.ts';
import { varianceShares } from '../../../engine/studies/tolerance/variance-shares.ts';
import { ONE_PER_AMP, madeUpDesign, madeUpTools } from './made-up-memory.ts';

const only = (tolerances: object): object => ({
  coreThreshold: 0,
  coreFlux: 0,
  coreElastic: 0,
  drive: 0,
  edge: 0,
  termination: 0,
  threshold: 0,
  strobe: '0 ns',
  temperature: '0 K',
  supply: 0,
  ...tolerances,
});
const withTolerances = (tolerances: object, more: object = {}) =>
  ({ ...(madeUpDesign as object), ...more, tolerances: only(tolerances) }) as never;

describe('draws', () => {
  const design = checkDesign(
    withTolerances({
      coreThreshold: 0.03,
      coreFlux: 0.05,
      coreElastic: 0.1,
      coreCorrelation: 0.6,
      drive: 0.02,
      strobe: '3 ns',
      temperature: '15 K',
      supply: 0.04,
    }),
  );

  it('are fixed by seed and index alone, and differ between both', () => {
    expect(drawShared(design, 5, 17)).toEqual(drawShared(design, 5, 17));
    expect(drawShared(design, 5, 17)).not.toEqual(drawShared(design, 5, 18));
    expect(drawShared(design, 5, 17)).not.toEqual(drawShared(design, 6, 17));
    expect(drawCores(design, 5, 17, 0)).toEqual(drawCores(design, 5, 17, 0));
    expect(drawCores(design, 5, 17, 0)).not.toEqual(drawCores(design, 5, 17, 1));
  });

  it('have the stated spread and correlation (each within five standard errors of 4,000 samples)', () => {
    const shared = Array.from({ length: 4000 }, (_, i) => drawShared(design, 1, i));
    const cores = Array.from({ length: 250 }, (_, i) => drawCores(design, 1, i, 0));
    const flat = (part: 'threshold' | 'flux' | 'elastic') => cores.flatMap((spread) => [...spread[part]]);
    const sizes: [readonly number[], number, number][] = [
      [shared.map((draw) => draw.driveX), 1, 0.02],
      [shared.map((draw) => draw.strobe), 0, 3e-9],
      [shared.map((draw) => draw.temperature), 0, 15 / Math.sqrt(3)],
      [shared.map((draw) => draw.supply), 1, 0.04 / Math.sqrt(3)],
      [flat('threshold'), 1, 0.03],
      [flat('flux'), 1, 0.05],
      [flat('elastic'), 1, 0.1],
    ];
    for (const [values, centre, sigma] of sizes) {
      expect(values.length).toBe(4000);
      expect(Math.abs(mean(values) - centre)).toBeLessThan((5 * sigma) / Math.sqrt(4000));
      expect(Math.abs(standardDeviation(values) / sigma - 1)).toBeLessThan(5 / Math.sqrt(8000));
    }
    const [a, b] = [flat('threshold'), flat('flux')];
    const correlation = mean(a.map((value, i) => ((value - 1) / 0.03) * ((b[i]! - 1) / 0.05)));
    expect(Math.abs(correlation - 0.6)).toBeLessThan((5 * Math.sqrt(1 + 0.36)) / Math.sqrt(4000));
  });
});

describe('yield', () => {
  // A ONE passes when 0.1 ohm × 0.4 A × drive factor ≥ 39 mV: chance 1 − Q((0.975 − 1)/0.02) in closed form.
  const design = withTolerances(
    { drive: 0.02 },
    { detector: { threshold: '39 mV', hysteresis: '0 V', uncertainty: '0 V', delay: '0 ns' } },
  );
  const chance = normalUpper((0.039 / (ONE_PER_AMP * 0.4) - 1) / 0.02);

  it('intervals cover the true yield as often as they say, over 200 studies of 60 draws', () => {
    const tools = madeUpTools();
    const checked = checkDesign(design);
    let covered = 0;
    for (let seed = 1; seed <= 200; seed++) {
      // One plan, another seed: the nominal does not depend on it.
      const plan = {
        ...planStudy({ kind: 'tolerance', design, options: { draws: 60, stack: false } }, tools),
        seed,
      };
      const passing = plan.points.filter((_, i) => drawShared(checked, seed, i).driveX >= 0.975).length;
      const results = plan.points.map((point, i) => ({
        index: i,
        name: point.name,
        values: { pass: i < passing, margin: 0, one: 0, zero: 0 },
      }));
      const { low, high } = summarise(plan, results).estimates[0]!;
      if (low <= chance && chance <= high) covered++;
    }
    // 95 % of 200 is 190; three standard deviations below is 181.
    expect(covered).toBeGreaterThanOrEqual(181);
  });

  it('a study through the points finds the closed-form yield inside its interval', () => {
    const tools = madeUpTools();
    const plan = planStudy(
      { kind: 'tolerance', design, options: { draws: 300, stack: false, seed: 3 } },
      tools,
    );
    const study = summarise(
      plan,
      plan.points.map((_, i) => evaluatePoint(plan, i, tools)),
    );
    const [bit] = study.estimates;
    expect(bit).toMatchObject({ interval: '95 % Wilson', samples: 300, seed: 3 });
    expect(bit!.low).toBeLessThan(chance);
    expect(bit!.high).toBeGreaterThan(chance);
    expect(study.histogram!.counts.reduce((a, b) => a + b)).toBe(300);
    const failing = study.results.filter((result) => result.values.pass === false).length;
    const negative = study.histogram!.counts.filter((_, k) => study.histogram!.edges[k + 1]! <= 1e-12);
    expect(negative.reduce((a, b) => a + b, 0)).toBe(failing);
    expect(study.open![0]!.point).toBe(
      [...study.results].sort((a, b) => Number(a.values.margin) - Number(b.values.margin))[0]!.index,
    );
  });

  it('all of the variance goes to the one thing that varies', () => {
    const tools = madeUpTools();
    const plan = planStudy(
      {
        kind: 'tolerance',
        design: withTolerances({ threshold: 0.05 }),
        options: { draws: 50, stack: false },
      },
      tools,
    );
    const { ranking, findings } = summarise(
      plan,
      plan.points.map((_, i) => evaluatePoint(plan, i, tools)),
    );
    expect(ranking.filter((entry) => entry.path === 'one').map((entry) => entry.name)).toEqual([
      'threshold',
      'other cores, curvature and interplay',
    ]);
    expect(ranking[0]!.value).toBeCloseTo(1, 9);
    expect(ranking[1]!.value).toBeCloseTo(0, 9);
    expect(findings.slice(0, 2)).toEqual([
      'The inputs listed explain 100 % of the variance of the ONE margin: mostly threshold (100 %).',
      'The inputs listed explain 100 % of the variance of the ZERO margin: mostly threshold (100 %).',
    ]);
  });

  it('and a list that is not known to explain anything says so first', () => {
    const tools = madeUpTools();
    const design = withTolerances({ threshold: 0.05 });
    const plan = planStudy({ kind: 'tolerance', design, options: { draws: 8, stack: false } }, tools);
    const { findings } = summarise(
      plan,
      plan.points.map((_, i) => evaluatePoint(plan, i, tools)),
    );
    expect(findings[0]).toBe(
      '8 draws are too few to tell how much of the variance of the ONE margin the inputs listed explain.',
    );
  });
});

describe('shares of variance', () => {
  it('are slope² variance of independent inputs, and sum to one with the rest', () => {
    const next = randomStream(11);
    const columns = Array.from({ length: 3 }, () => Array.from({ length: 5000 }, () => next() - 0.5));
    const y = columns[0]!.map((a, i) => 3 * a + 4 * columns[1]![i]!);
    const { shares, rest } = varianceShares({ a: columns[0]!, b: columns[1]!, c: columns[2]! }, y);
    expect(shares.map((share) => share.name)).toEqual(['b', 'a', 'c']);
    expect(shares[0]!.share).toBeCloseTo(16 / 25, 1);
    expect(shares[1]!.share).toBeCloseTo(9 / 25, 1);
    expect(shares[2]!.share).toBeLessThan(1e-20);
    expect(rest).toBeLessThan(1e-20);
  });

  it('do not take what as many inputs explain by chance for an explanation', () => {
    const next = randomStream(13);
    const draw = (count: number): number[] => Array.from({ length: count }, () => next() - 0.5);
    const rests = Array.from({ length: 40 }, () => {
      const inputs = Object.fromEntries(Array.from({ length: 12 }, (_, k) => [`input ${k}`, draw(30)]));
      return varianceShares(inputs, draw(30)).rest;
    });
    // R² of 12 inputs that have nothing to do with 30 results is 12/29 on average: told as they are, 0.59 is left.
    expect(mean(rests)).toBeGreaterThan(0.85);
    expect(Math.max(...rests)).toBeLessThanOrEqual(1);
    const few = { a: draw(11), b: draw(11) };
    expect(varianceShares(few, draw(11))).toEqual({ shares: [], rest: NaN });
  });

  it('leave out what does not stray, however many draws there are: its mean is off by rounding', () => {
    const next = randomStream(12);
    const equal = (value: number): number[] => Array.from({ length: 100_000 }, () => value);
    const a = equal(0).map(() => next());
    const inputs = { a, b: equal(0.1), c: equal(1.7) };
    expect(varianceShares(inputs, a).shares.map(({ name }) => name)).toEqual(['a']);
    expect(varianceShares(inputs, equal(0.1))).toEqual({ shares: [], rest: 1 });
  });
});

describe('a draw opened as a design', () => {
  it.each(['nothing', 'cycle'])('reads the weaker bit as the study did, every core its own: %s', (before) => {
    const design = {
      name: 'small',
      mat: { rows: 4, columns: 4 },
      detector: { delay: '0 ns', hysteresis: '0 V' },
      strobe: { time: '140 ns', aperture: '0 ns', jitter: '0 ns' },
    };
    const plan = planStudy({ kind: 'tolerance', design, options: { draws: 6, stack: false, before } });
    for (const draw of [2, 5]) {
      const result = evaluatePoint(plan, draw);
      const opened = checkDesign(openDesign(plan, draw));
      expect(opened.exceptions.length).toBe(16);
      const run = simulate(opened, { estimateError: false });
      const { one, zero } = result.values;
      const bit = Number(one) <= Number(zero) ? 1 : 0;
      const { threshold } = opened.detector;
      const margin = bit === 1 ? run.strobe.value - threshold : threshold - run.strobe.value;
      // The file runs the whole cycle, the study up to the strobe: the same within the error of a run.
      expect(Math.abs(margin - Number(bit === 1 ? one : zero))).toBeLessThan(2e-5);
    }
  });
});

describe('the inhibit current', () => {
  const study = (before: string, inhibit: number) => {
    const design = {
      name: 'small',
      mat: { rows: 4, columns: 4 },
      strobe: { time: '140 ns' },
      tolerances: only({ inhibit }) as never,
    };
    const plan = planStudy({ kind: 'tolerance', design, options: { draws: 24, stack: false, before } });
    const results = plan.points.map((_, i) => evaluatePoint(plan, i));
    return summarise(plan, results);
  };
  const margins = (result: StudyResult, side: string) =>
    result.results.map((each) => Number(each.values[side]));

  it.each(['core', 'cycle'])(
    'strays on its own and is felt by a ZERO kept by its own inhibited write: %s',
    (before) => {
      const felt = study(before, 0.1);
      // Addresses differ between draws; the inhibit explains what they do not.
      const share = felt.ranking.find(({ name, path }) => name === 'inhibit' && path === 'zero')!;
      expect(share.value).toBeGreaterThan(0.3);
      const spread = standardDeviation(margins(felt, 'zero'));
      expect(spread).toBeGreaterThan(3 * standardDeviation(margins(study(before, 0), 'zero')));
    },
  );

  it('less of it leaves more of the write in the ZERO, which then reads closer to the threshold', () => {
    const felt = study('core', 0.1);
    const factors = margins(felt, 'inhibit');
    const zeros = margins(felt, 'zero');
    const least = factors.indexOf(Math.min(...factors));
    const greatest = factors.indexOf(Math.max(...factors));
    expect(zeros[least]!).toBeLessThan(zeros[greatest]! - 1e-4);
  });

  it('does not take the ONE from a core that is alone on its wire', () => {
    const jig = { name: 'jig', mat: { rows: 1, columns: 1 }, strobe: { time: '140 ns' } };
    const ones = ['core', 'cycle'].map((before) => {
      const plan = planStudy({ kind: 'tolerance', design: jig, options: { draws: 3, stack: false, before } });
      return plan.points.map((_, i) => Number(evaluatePoint(plan, i).values.one));
    });
    for (let i = 0; i < 3; i++) {
      expect(ones[0]![i]).toBeGreaterThan(0);
      expect(Math.abs(ones[0]![i]! - ones[1]![i]!)).toBeLessThan(1e-4);
    }
  });

  it('is not felt where nothing goes before', () => {
    const deaf = study('nothing', 0.1);
    const share = deaf.ranking.find(({ name, path }) => name === 'inhibit' && path === 'zero');
    expect(share === undefined || Math.abs(share.value) < 0.2).toBe(true);
  });

  it('strays as the drives do where a design does not say', () => {
    expect(checkDesign({ tolerances: { drive: 0.07 } }).tolerances.inhibit).toBe(0.07);
    expect(checkDesign({ tolerances: { drive: 0.07, inhibit: 0.01 } }).tolerances.inhibit).toBe(0.01);
  });

  it('of a cycle whose currents a voltage makes is known from the whole cycle alone', () => {
    const drive = { x: { source: { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' } } };
    const plan = (options: object) =>
      planStudy(
        {
          kind: 'tolerance',
          design: { ...(madeUpDesign as object), drive } as never,
          options: options as never,
        },
        madeUpTools(),
      );
    expect(plan({ draws: 2 }).options.before).toBe('cycle');
    expect(() => plan({ draws: 2, before: 'core' })).toThrow(
      'Study option before must be cycle or nothing where a line is driven by a voltage, but is "core"; choose one of these, for its current is known from the whole cycle alone.',
    );
  });
});

describe('yield of a stack', () => {
  const design = {
    name: 'two small mats',
    mat: { rows: 4, columns: 4, mats: 2 },
    strobe: { time: '140 ns' },
    detector: { threshold: '22 mV' },
    tolerances: { coreThreshold: 0.05, coreFlux: 0.05, temperature: '20 K' },
  };
  const plan = planStudy({ kind: 'tolerance', design, options: { draws: 30, seed: 4 } });
  const results = plan.points.map((_, i) => evaluatePoint(plan, i));
  const nominal = checkDesign(design);
  const tools = { checkDesign, simulate };

  it('is what reading every bit of every build in full says', () => {
    const how = { reads: plan.options.reads as never, before: plan.options.before as never };
    const verdicts = results.map((result) => result.values.stack);
    for (const [index, verdict] of verdicts.entries()) {
      const drawn = { shared: drawShared(nominal, 4, index), seed: 4, index };
      const build = makeBuild(design, nominal, drawn, plan.nominal!.time, tools);
      let least = Infinity;
      for (let mat = 0; mat < 2; mat++)
        for (let core = 0; core < 16; core++)
          for (const bit of [0, 1] as const)
            least = Math.min(least, readMargin(build, how, { mat, core }, bit, tools));
      if (verdict !== 'doubtful') expect([index, verdict]).toEqual([index, least < 0 ? 'fails' : 'passes']);
      // A read that was made is one of all, so that none can be less than the least.
      expect(Number(results[index]!.values.stackMargin)).toBeGreaterThanOrEqual(least - 1e-12);
    }
    // It bites only where both happen, and where a stack fails whose random bit passes.
    expect(new Set(verdicts)).toEqual(new Set(['passes', 'fails']));
    expect(results.some(({ values }) => values.pass === true && values.stack === 'fails')).toBe(true);
  });

  it('counts a doubtful draw as failing at the low end and as passing at the high end', () => {
    const verdicts = ['passes', 'passes', 'fails', 'doubtful'];
    const made = results.slice(0, 4).map((result, i) => ({
      ...result,
      values: { ...result.values, stack: verdicts[i]! },
    }));
    const { estimates } = summarise(plan, made);
    expect(estimates[1]).toMatchObject({
      value: 0.625,
      low: wilsonInterval(2, 4).low,
      high: wilsonInterval(3, 4).high,
      interval: '95 % Wilson, doubtful draws either way',
    });
  });
});

describe('an estimate in words', () => {
  const base = { label: 'yield', unit: '', interval: '95 % Wilson', samples: 60, seed: 1 };
  it.each([
    [
      { ...base, value: 0.98333, low: 0.91145, high: 0.99705 },
      'yield 98.3 % (91.1 % to 99.7 %; 95 % Wilson, 60 samples, seed 1)',
    ],
    [
      { ...base, value: 1, low: 0.99617, high: 1 },
      'yield 100.00 % (99.62 % to 100.00 %; 95 % Wilson, 60 samples, seed 1)',
    ],
    [
      { ...base, unit: 'V', value: 0.0134343, low: 0.01259, high: 0.014278 },
      'yield 13.43 mV (12.59 mV to 14.28 mV; 95 % Wilson, 60 samples, seed 1)',
    ],
    [
      { ...base, unit: 'V', value: -0.0002, low: -0.0025, high: 0.0021 },
      'yield −0.2 mV (−2.5 mV to 2.1 mV; 95 % Wilson, 60 samples, seed 1)',
    ],
  ])('has no more places than two digits of its uncertainty %#', (estimate, text) => {
    expect(formatEstimate(estimate)).toBe(text);
  });
});
