import type { Patch } from '../../engine/base/json-patch.ts';
import { randomStream } from '../../engine/numerics/random.ts';
import { build, SMALL } from './builds.ts';
import { recordTrace, type Captured, type Instrument } from './instrument.ts';
import { runTruth, type Run } from './memory.ts';
import { truthOf, type Departure } from './truth.ts';

/** A build as it really is, beside the design that the product is given for it. */
export interface Planted {
  readonly changes: readonly Patch[];
  readonly run: Run;
  readonly random: () => number;
  /** V, greatest of the sense voltage within the read. */
  readonly peak: number;
}

const CORES = ['ferrite-20-mil', 'ferrite-30-mil'];

/** Where the core that is read lies in a build of `index`. */
const sizeOf = (index: number): number => [1, 4, 8][index % 3]!;

/**
 * Build `index` of as many as wanted: sizes, cores, windings, edges, bits; off the family of the product's cores.
 * @param wrong of that build, which its design does not know
 */
export function plantedBuild(index: number, wrong: readonly Patch[] = []): Planted {
  const random = randomStream(61_116, index);
  const between = (a: number, b: number): number => a + (b - a) * random();
  const size = sizeOf(index);
  const rise = `${Math.round(between(30, 80))} ns`;
  const line = { rise, fall: rise };
  const changes: Patch[] = [
    { path: '/core', value: { preset: CORES[Math.floor(index / 3) % 2]! } },
    { path: '/mat', value: { rows: size, columns: size } },
    { path: '/selected', value: { row: 0, column: 0, bit: index % 4 === 3 ? 0 : 1 } },
    ...(size > 1 && index % 2 === 0 ? [{ path: '/winding/kind', value: 'shared-two-halves' }] : []),
    { path: '/drive', value: { x: line, y: line, inhibit: { amplitude: '340 mA' } } },
    { path: '/amplifier/gain', value: Math.round(between(15, 60)) },
  ];
  const departure: Departure = {
    skew: between(-0.2, 0.2),
    spread: between(0, 0.05),
    knee: random() < 0.5 ? 'other' : 'exponential',
    seed: index + 1,
  };
  const truth = truthOf(build(SMALL, [...changes, ...wrong]), departure);
  const run = runTruth(truth, { step: 0.5e-9, until: 1000e-9 });
  const inRead = run.sense.subarray(0, Math.round(450e-9 / run.step));
  const peak = inRead.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  return { changes, run, random, peak };
}

/** An ordinary instrument: fast enough, of eight bits, with some noise, its read anywhere on its own time. */
export function ordinary({ random, peak }: Planted): Instrument {
  return {
    noise: peak * (0.004 + 0.02 * random()),
    step: (1.6 * peak) / 200,
    interval: (1 + 3 * random()) * 1e-9,
    bandwidth: (150 + 200 * random()) * 1e6,
    delay: (random() - 0.5) * 4e-6,
    before: 200e-9,
    until: 800e-9,
    seed: Math.floor(random() * 1e6),
  };
}

/** One way in which a capture may be other than it should: what is recorded of a build. */
export interface Effect {
  readonly name: string;
  /** The codes of which one at least must be found; none: nothing may be found. */
  readonly codes: readonly string[];
  /** Codes that are true of it besides. */
  readonly also?: readonly string[];
  readonly record: (planted: Planted) => Captured & { readonly unit?: 'A' };
}

const seen =
  (
    set: (planted: Planted) => Instrument,
    trace: (run: Run, planted: Planted) => Float64Array = (run) => run.sense,
  ) =>
  (planted: Planted): Captured =>
    recordTrace(trace(planted.run, planted), planted.run.step, { ...ordinary(planted), ...set(planted) });

const probe = (factor: number): Effect => ({
  name: `probe ${factor}`,
  codes: ['probe'],
  record: seen(({ peak }) => ({ probe: factor, step: (1.6 * peak * factor) / 200 })),
});

/** What is done to the voltage of the amplifier: in volts, without a clamp at its output. */
const amplified = (run: Run): Float64Array => run.amplifier;
const forAmplifier = ({ run }: Planted): Instrument => {
  const most = run.amplifier.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  return { noise: 0.005 * most, step: most / 120 };
};

export const EFFECTS: readonly Effect[] = [
  { name: 'nothing', codes: [], record: seen(() => ({})) },
  { name: 'nothing, again', codes: [], record: seen(() => ({})) },
  probe(0.1),
  probe(0.01),
  probe(10),
  probe(100),
  {
    name: 'clipped at 55 %',
    codes: ['clipped', 'limited'],
    also: ['offset'],
    record: seen(({ peak }) => ({ clip: 0.55 * peak, noise: 0.004 * peak, step: peak / 100 })),
  },
  {
    name: 'two levels',
    codes: ['two-level'],
    record: seen(
      () => ({ noise: 0.02, step: 0.02, bandwidth: 100e6 }),
      ({ sense }, { peak }) => sense.map((v) => (v > 0.5 * peak ? 3.3 : 0.2)),
    ),
  },
  {
    name: 'instrument of 3 to 9 MHz',
    codes: ['bandwidth'],
    record: seen(({ random }) => ({ bandwidth: (3 + 6 * random()) * 1e6 })),
  },
  {
    name: 'hum of 100 to 300 kHz',
    codes: ['hum'],
    also: ['offset'],
    record: seen(({ peak, random }) => ({
      hum: [0.25 * peak, (100 + 200 * random()) * 1e3],
      before: 2.5e-6,
    })),
  },
  {
    name: 'hum of 50 Hz',
    codes: ['offset', 'hum'],
    record: seen(({ peak, random }) => ({ offset: peak * (0.2 + 0.6 * random()) })),
  },
  {
    name: 'averaged',
    codes: ['averaged'],
    also: ['offset'],
    record: seen(({ peak }) => ({ averaged: 512, noise: 0.004 * peak, step: peak / 20_000, jitter: 1e-9 })),
  },
  { name: 'too short', codes: ['short'], record: seen(() => ({ until: 280e-9 })) },
  {
    name: 'coarse',
    codes: ['coarse'],
    record: seen(({ random }) => ({ interval: (34 + 12 * random()) * 1e-9, before: 400e-9 })),
  },
  {
    name: 'a current in volts',
    codes: ['current'],
    also: ['offset'],
    record: seen(
      () => ({ noise: 0.003, step: 0.004 }),
      ({ x, y }, { random }) => (random() < 0.5 ? x : x.map((i, k) => i + y[k]!)),
    ),
  },
  {
    name: 'a current in amperes',
    codes: ['current'],
    record: (planted) => ({
      ...seen(
        () => ({ noise: 0.003 }),
        ({ x }) => x,
      )(planted),
      unit: 'A',
    }),
  },
  {
    name: 'amplifier output',
    codes: ['other-place', 'probe-or-place'],
    also: ['limited', 'clipped'],
    record: seen(forAmplifier, amplified),
  },
  {
    name: 'rectified amplifier output',
    codes: ['rectified', 'other-place'],
    also: ['limited', 'clipped'],
    record: seen(forAmplifier, (run) => run.amplifier.map(Math.abs)),
  },
];

/** Faults of builds, which are no fault of a capture. */
export const WRONG_BUILDS: readonly (readonly [string, readonly Patch[]])[] = [
  ['core missing', [{ path: '/exceptions', value: [{ row: 0, column: 0, missing: true }] }]],
  ['weak drive', [{ path: '/drive/x/readAmplitude', value: '290 mA' }]],
  ['dead line', [{ path: '/drive/y/readAmplitude', value: '1 mA' }]],
  ['end shorted', [{ path: '/terminations/b', value: 'short' }]],
  ['end open', [{ path: '/terminations/b', value: 'open' }]],
  ['slow edges', [{ path: '/drive/x/rise', value: '110 ns' }]],
];
