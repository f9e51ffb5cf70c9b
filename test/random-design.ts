import * as fc from 'fast-check';
import { checkDesign } from '../engine/check/check-design.ts';
import type { Design } from '../engine/design/design.ts';
import { randomStream } from '../engine/numerics/random.ts';

/** What a random design may contain; everything is allowed unless said otherwise. */
export interface RandomDesignOptions {
  /** Largest side of the mat, in cores (default 12). */
  readonly largest?: number;
  /** Voltage-driven lines (default true). */
  readonly voltage?: boolean;
  /** Cycles before the observed one (default true). */
  readonly history?: boolean;
  /** Missing, reversed, biased and odd cores (default true). */
  readonly exceptions?: boolean;
  /** Lossless wires, whose ladder rings for ever (default true). */
  readonly lossless?: boolean;
  /** Clamps at the inhibit driver (default true). */
  readonly clamps?: boolean;
  /** Leads between mat and board (default true). */
  readonly cable?: boolean;
}

export type DesignFile = Readonly<Record<string, unknown>>;

/**
 * The file of a random valid design, invented throughout: sizes, windings, drives, edges, terminations, wires, cable,
 * history, odd cores, stored patterns. The same seed and options always give the same file.
 */
export function randomDesignFile(seed: number, options: RandomDesignOptions = {}): DesignFile {
  const random = randomStream(seed, 77);
  // A stream of their own, so that the rest of each design is as it was without them.
  const rings = randomStream(seed, 78);
  const whole = (from: number, to: number): number => from + Math.floor(random() * (to - from + 1));
  const between = (from: number, to: number): number => from + random() * (to - from);
  const scaled = (from: number, to: number): number => from * (to / from) ** random();
  const chance = (p: number): boolean => random() < p;
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const text = (value: number, unit: string): string => `${Number(value.toPrecision(6))} ${unit}`;
  const maybe = (allowed: boolean | undefined, p: number): boolean => chance(p) && allowed !== false;

  const kind = pick([
    'shared-one-run',
    'shared-two-halves',
    'separate-diagonal',
    'separate-rectangular',
    'custom',
  ] as const);
  const even = kind !== 'shared-one-run' && kind !== 'custom';
  const most = options.largest ?? 12;
  const side = (): number => (even ? 2 * whole(1, Math.floor(most / 2)) : whole(1, most));
  const rows = side();
  const columns = side();
  const row = whole(0, rows - 1);
  const column = whole(0, columns - 1);
  const mats = chance(0.3) ? whole(2, 12) : 1;
  const preset = pick(['ferrite-20-mil', 'lithium-20-mil', 'ferrite-30-mil', 'ferrite-50-mil'] as const);
  const slow = preset === 'ferrite-50-mil';

  const shuffled = Array.from({ length: rows * columns }, (_, i) => i);
  for (let i = shuffled.length - 1; i > 0; i--) {
    const j = whole(0, i);
    [shuffled[i], shuffled[j]] = [shuffled[j]!, shuffled[i]!];
  }
  const winding =
    kind === 'custom'
      ? {
          kind,
          polarity: Array.from({ length: rows }, () =>
            Array.from({ length: columns }, () => (chance(0.5) ? 1 : -1)),
          ),
          order: shuffled,
          shared: chance(0.3),
        }
      : {
          kind,
          ...(kind === 'shared-one-run' && columns % 2 === 0 && columns >= rows && chance(0.2)
            ? { segments: 2 }
            : {}),
        };

  const rise = scaled(10, 120);
  const edge = (): Record<string, unknown> => {
    const shape = pick(['linear', 'linear', 'raised-cosine', 'exponential', 'table'] as const);
    return {
      rise: text(rise * between(0.7, 1.4), 'ns'),
      fall: text(rise * between(0.7, 1.4), 'ns'),
      edge:
        shape === 'table'
          ? {
              kind: shape,
              points: [
                [0, 0],
                [0.3, between(0.05, 0.4)],
                [0.7, between(0.6, 0.95)],
                [1, 1],
              ],
            }
          : { kind: shape },
      ...(chance(0.15)
        ? { overshoot: { fraction: between(0.02, 0.2), frequency: text(between(5, 40), 'MHz') } }
        : {}),
    };
  };
  const level = slow ? between(340, 460) : between(300, 420);
  const line = (): Record<string, unknown> => {
    const common = {
      ...edge(),
      inductance: text(scaled(20, 400), 'nH'),
      resistance: text(between(0.1, 5), 'ohm'),
      temperatureCoefficient: text(between(-0.3, 0), '%/K'),
    };
    if (!maybe(options.voltage, 0.25))
      return {
        ...common,
        readAmplitude: text(level * between(0.9, 1.1), 'mA'),
        writeAmplitude: text(level * between(0.9, 1.1), 'mA'),
      };
    const volts = between(8, 40);
    return {
      ...common,
      source: { kind: 'voltage', voltage: text(volts, 'V'), resistance: text((1000 * volts) / level, 'ohm') },
      clamp: text(between(1, 40), 'V'),
    };
  };

  const width = slow ? between(900, 1500) : between(400, 700);
  const cycle = {
    readWidth: text(width, 'ns'),
    gap: text(between(350, 600), 'ns'),
    writeWidth: text(width * between(0.9, 1.2), 'ns'),
    stagger: chance(0.3) ? text(between(-80, 120), 'ns') : '0 ns',
    postWriteDisturb: chance(0.2),
    period: text(5 * width + between(2000, 5000), 'ns'),
  };
  const write = (): string => pick(['restore', 'restore', 'one', 'zero', 'none'] as const);
  const past = maybe(options.history, 0.35) ? whole(1, 3) : 0;
  const programme = Array.from({ length: past }, () => {
    const again = chance(0.4);
    return {
      row: again ? row : whole(0, rows - 1),
      column: again ? column : whole(0, columns - 1),
      lines: pick(['both', 'both', 'x', 'y'] as const),
      write: write(),
    };
  });

  const odd = maybe(options.exceptions, 0.3) ? whole(1, Math.min(4, rows * columns)) : 0;
  const exceptions = shuffled.slice(0, odd).map((core) => ({
    row: Math.floor(core / columns),
    column: core % columns,
    ...pick([
      { missing: true },
      { reversed: true },
      { fluxFactor: between(0.6, 1.4), thresholdFactor: between(0.8, 1.2) },
      { elasticFactor: between(0.5, 2) },
      { bias: text(between(-3, 3), 'A') },
    ]),
  }));

  const ending = (): string =>
    pick(['open', 'short', text(scaled(30, 1000), 'ohm'), text(scaled(30, 1000), 'ohm'), '100 ohm']);
  let perCore = 0;
  const wireInductance = (): string => {
    perCore = scaled(0.3, 5);
    return text(perCore, 'nH');
  };
  // No more than what the wire and a line of 20 nH, the least there is, can hold between them.
  const mutualOf = (crossings: number): number => Math.min(1, Math.sqrt((perCore * 20) / crossings / 2));
  const a = ending();
  const b = ending();
  return {
    name: `random design ${seed}`,
    note: 'Invented by a generator for tests.',
    temperature: text(between(0, 55), '°C'),
    core: {
      preset,
      parameters: {
        ...(chance(0.3)
          ? { decayResistance: text(between(5, 30), 'mohm'), decayCharge: text(between(5, 20), 'nC') }
          : {}),
        ...(rings() < 0.3 ? { ringSpread: Number((0.04 + 0.18 * rings()).toPrecision(3)) } : {}),
      },
    },
    mat: { rows, columns, mats, otherOnes: whole(0, mats - 1) },
    winding,
    wire: {
      resistancePerCore: text(scaled(1, 100), 'mohm'),
      inductancePerCore: wireInductance(),
      capacitancePerCore: text(scaled(0.02, 0.4), 'pF'),
      leakagePerCore: chance(0.2) ? text(scaled(0.01, 10), 'uS') : '0 S',
      lossTime: options.lossless !== false && chance(0.1) ? '0 ns' : text(scaled(0.3, 4), 'ns'),
      mutualX: text(between(-1, 1) * mutualOf(columns), 'nH'),
      mutualY: text(between(-1, 1) * mutualOf(rows), 'nH'),
      couplingCapacitance: text(between(0, 0.02), 'pF'),
      diameter: '0.05 mm',
      cable: maybe(options.cable, 0.25)
        ? {
            delay: text(between(0.5, 8), 'ns'),
            impedance: text(between(40, 120), 'ohm'),
            resistance: text(between(0, 2), 'ohm'),
          }
        : {},
    },
    terminations: {
      a,
      b,
      joint: kind === 'shared-two-halves' && chance(0.5) ? text(scaled(30, 1000), 'ohm') : 'open',
    },
    drive: {
      x: line(),
      y: line(),
      inhibit: {
        ...edge(),
        amplitude: text(level * between(0.8, 1), 'mA'),
        lead: text(between(20, 100), 'ns'),
        lag: text(between(20, 100), 'ns'),
        clamp: maybe(options.clamps, 0.2) ? text(scaled(0.5, 20), 'V') : 'none',
      },
    },
    cycle,
    selected: { row, column, bit: whole(0, 1) },
    stored: {
      kind: pick(['zeros', 'ones', 'checkerboard', 'row-stripes', 'column-stripes', 'random'] as const),
      seed: whole(0, 1e6),
      complement: chance(0.3),
    },
    initialState: chance(0.3) ? 'disturbed' : 'undisturbed',
    programme: [...programme, { row, column, write: write() }],
    exceptions,
    amplifier: { inputResistance: text(scaled(100, 100_000), 'ohm') },
  };
}

/** The same, checked. */
export const randomDesign = (seed: number, options: RandomDesignOptions = {}): Design =>
  checkDesign(randomDesignFile(seed, options));

/** As a source for fast-check: designs by seed (a counterexample prints its seed; it is not shrunk). */
export const anyDesign = (options: RandomDesignOptions = {}): fc.Arbitrary<Design> =>
  fc.noShrink(fc.nat({ max: 2 ** 31 - 1 })).map((seed) => randomDesign(seed, options));
