import { applyPatches, type Json, type Patch } from '../../engine/base/json-patch.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { valueAt, type Trace } from '../../engine/fitting/align/trace-tools.ts';
import { observedTrace, type Observed } from '../../engine/fitting/compare.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import { simulate } from '../../engine/simulate/simulate.ts';

/** Invented: one core on a jig, one read, short cycle, so that a run takes a few milliseconds. */
export const JIG: Json = {
  name: 'jig for fits',
  note: 'Invented.',
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 1, columns: 1, mats: 1, pitch: '20 mm' },
  winding: { kind: 'shared-one-run' },
  wire: {
    resistancePerCore: '20 mohm',
    inductancePerCore: '20 nH',
    capacitancePerCore: '1 pF',
    mutualX: '0.5 nH',
    mutualY: '0.5 nH',
    couplingCapacitance: '0.1 pF',
  },
  terminations: { a: '50 ohm', b: '50 ohm' },
  drive: { x: { readAmplitude: '370 mA', rise: '50 ns' }, y: { readAmplitude: '370 mA', rise: '50 ns' } },
  cycle: { period: '900 ns', readWidth: '450 ns', gap: '150 ns', writeWidth: '50 ns' },
  selected: { row: 0, column: 0, bit: 1 },
  stored: { kind: 'ones' },
  programme: [{ row: 0, column: 0, write: 'none' }],
};

export interface Bench {
  readonly seed: number;
  readonly index: number;
  /** V rms of one sample. */
  readonly noise: number;
  /** V, quantisation step; 0: none. */
  readonly step: number;
  /** s on the instrument's axis at which the read starts. */
  readonly delay: number;
  readonly offset: number;
  readonly gain?: number;
  /** s between samples. */
  readonly interval?: number;
  readonly observed?: Observed;
}

/** What an instrument would record of a design: shifted, offset, noisy and in steps. */
export function record(design: Json, changes: readonly Patch[], bench: Bench): Trace {
  const run = simulate(checkDesign(applyPatches(design, changes)), {
    contributions: false,
    estimateError: false,
  });
  const truth = observedTrace(run, bench.observed ?? 'sense');
  const normal = normalDeviates(randomStream(bench.seed, bench.index));
  const interval = bench.interval ?? 2e-9;
  const from = -60e-9;
  const count = Math.floor((truth.time[truth.time.length - 1] - from) / interval);
  // An instrument's clock knows nothing of the read: the samples fall anywhere between those of the model.
  const phase = randomStream(bench.seed, bench.index + 1_000_000)() * interval;
  const time = Float64Array.from({ length: count }, (_, i) => from + phase + i * interval);
  const value = time.map((t) => {
    const v = (bench.gain ?? 1) * valueAt(truth, t) + bench.offset + bench.noise * normal();
    return bench.step > 0 ? Math.round(v / bench.step) * bench.step : v;
  });
  return { time: time.map((t) => t + bench.delay), value };
}

/** What the coverage runs fit. */
export const COVERED = ['coreFlux', 'coreRate', 'mutual'] as const;

/**
 * How many of `count` captures give a 95 % interval that holds the planted value, for each unknown. Every capture
 * has planted values, noise, quantisation, delay and offset of its own, all from its index.
 */
export function coverage(count: number): Record<(typeof COVERED)[number], number> {
  const hits = { coreFlux: 0, coreRate: 0, mutual: 0 };
  for (let index = 0; index < count; index++) {
    const draw = randomStream(20_642, index);
    const between = (low: number, high: number) => low + (high - low) * draw();
    const truth = {
      coreFlux: between(2.3e-9, 3.2e-9),
      coreRate: between(0.14, 0.21),
      mutual: between(0.3e-9, 0.8e-9),
    };
    const planted = applyPatches(JIG, [
      { path: '/core/parameters/remanentFlux', value: `${truth.coreFlux * 1e9} nWb` },
      { path: '/core/parameters/switchingResistance', value: `${truth.coreRate} ohm` },
      { path: '/wire/mutualX', value: `${truth.mutual * 1e9} nH` },
      { path: '/wire/mutualY', value: `${truth.mutual * 1e9} nH` },
    ]);
    const noise = between(0.2e-3, 1.5e-3);
    const trace = record(planted, [], {
      seed: 99,
      index,
      noise,
      step: noise * between(0.1, 1.5),
      delay: between(-2e-6, 2e-6),
      offset: between(-5e-3, 5e-3),
      interval: between(1.5e-9, 5e-9),
    });
    const fit = fitDesign({ design: JIG, captures: [{ label: 'one', trace }], unknowns: COVERED });
    fit.unknowns.forEach(({ name, interval }) => {
      const key = name as (typeof COVERED)[number];
      if (interval.low <= truth[key] && truth[key] <= interval.high) hits[key]++;
    });
  }
  return hits;
}
