import type { Unit } from '../base/units.ts';

/** Something a fit may find out: fields of a design that move together, in proportion to the first of them. */
export interface UnknownKind {
  /** JSON pointers, the same in a design file and in a checked design. */
  readonly fields: readonly [string, ...string[]];
  readonly unit: Unit;
  /** Bounds as factors on the start. */
  readonly low: number;
  readonly high: number;
  /** SI, a typical size: the start when the design says 0. */
  readonly typical: number;
  readonly meaning: string;
  /** SI, a bound above which no design may go. */
  readonly most?: number;
}

const core = (field: string): string => `/core/parameters/${field}`;
const kind = (
  fields: readonly [string, ...string[]],
  unit: Unit,
  low: number,
  high: number,
  typical: number,
  meaning: string,
): UnknownKind => ({ fields, unit, low, high, typical, meaning });

/** Everything that can be asked of a fit, by name. */
export const UNKNOWNS = {
  coreFlux: kind([core('remanentFlux')], 'Wb', 0.2, 5, 3e-9, 'remanent flux of a core'),
  coreThreshold: kind(
    [
      core('dynamicThreshold'),
      core('coerciveDrive'),
      core('staticKneeWidth'),
      core('dynamicKneeWidth'),
      core('decayThreshold'),
    ],
    'A',
    0.5,
    1.6,
    0.45,
    'thresholds of a core, all in proportion (the dynamic one is told)',
  ),
  coreDynamicThreshold: kind(
    [core('dynamicThreshold')],
    'A',
    0.4,
    2.2,
    0.45,
    'dynamic threshold F_0 of a core, where its speed begins to grow',
  ),
  coreCoercive: kind(
    [core('coerciveDrive')],
    'A',
    0.5,
    2,
    0.5,
    'coercive drive F_c of a core, the middle of its static knee',
  ),
  coreStaticKnee: kind([core('staticKneeWidth')], 'A', 0.1, 3, 0.03, 'width of the static knee of a core'),
  coreDynamicKnee: kind([core('dynamicKneeWidth')], 'A', 0.1, 3, 0.03, 'width of the dynamic knee of a core'),
  coreRingSpread: {
    ...kind([core('ringSpread')], '1', 0, 3, 0.1, 'spread of the thresholds over the rings of a core'),
    most: 0.3,
  },
  coreElasticBend: kind(
    [core('elasticBend')],
    'A',
    0.1,
    10,
    0.2,
    'drive F_e over which the elastic inductance of a core changes',
  ),
  coreDecay: kind(
    [core('decayResistance')],
    'ohm',
    0.05,
    20,
    5e-3,
    'resistance of the decaying part of a core, which makes its tail',
  ),
  coreDecayCharge: kind(
    [core('decayCharge')],
    'C',
    0.05,
    20,
    1e-7,
    'charge constant of the decaying part of a core: how slow its tail is',
  ),
  coreRate: kind([core('switchingResistance')], 'ohm', 0.2, 5, 0.17, 'switching resistance of a core'),
  coreElastic: kind(
    [core('elasticSaturated'), core('elasticKnee')],
    'H',
    0.1,
    10,
    0.8e-9,
    'elastic inductances of a core, in proportion',
  ),
  coreElasticKnee: kind([core('elasticKnee')], 'H', 0.1, 10, 1e-9, 'elastic inductance toward the knee'),
  coreSquareness: kind([core('squareness')], '1', 0.7, 1.08, 0.92, 'remanent over saturation flux'),
  mutual: kind(
    ['/wire/mutualX', '/wire/mutualY'],
    'H',
    0,
    20,
    0.1e-9,
    'air coupling of a drive line to the sense wire, per crossing',
  ),
  mutualX: kind(['/wire/mutualX'], 'H', 0, 20, 0.1e-9, 'air coupling of X, per crossing'),
  mutualY: kind(['/wire/mutualY'], 'H', 0, 20, 0.1e-9, 'air coupling of Y, per crossing'),
  leadCoupling: kind(
    ['/mat/leads/mutual'],
    'H',
    0,
    20,
    10e-9,
    'air coupling of the leads of a drive line to those of the sense wire',
  ),
  couplingCapacitance: kind(
    ['/wire/couplingCapacitance'],
    'F',
    0,
    20,
    0.02e-12,
    'capacitance of a drive line to the sense wire, per crossing',
  ),
  wireResistance: kind(
    ['/wire/resistancePerCore'],
    'ohm',
    0.05,
    20,
    5e-3,
    'resistance of the sense wire, per core',
  ),
  wireInductance: kind(
    ['/wire/inductancePerCore'],
    'H',
    0.1,
    10,
    1e-9,
    'inductance of the sense wire, per core',
  ),
  wireCapacitance: kind(
    ['/wire/capacitancePerCore'],
    'F',
    0.1,
    10,
    0.1e-12,
    'capacitance of the sense wire, per core',
  ),
  wireLoss: kind(['/wire/lossTime'], 's', 0.1, 10, 1e-9, 'loss time of the ferrite that the sense wire sees'),
  termination: kind(
    ['/terminations/a', '/terminations/b'],
    'ohm',
    0.1,
    10,
    100,
    'both terminations, in proportion',
  ),
  terminationA: kind(['/terminations/a'], 'ohm', 0.05, 20, 100, 'termination at end A'),
  terminationB: kind(['/terminations/b'], 'ohm', 0.05, 20, 100, 'termination at end B'),
  amplifierGain: kind(['/amplifier/gain'], '1', 0.1, 10, 20, 'gain of the amplifier'),
  amplifierBandwidth: kind(['/amplifier/bandwidth'], 'Hz', 0.05, 20, 10e6, 'first pole of the amplifier'),
  amplifierSecondPole: kind(['/amplifier/secondPole'], 'Hz', 0.05, 20, 50e6, 'second pole of the amplifier'),
  amplifierHighPass: kind(['/amplifier/highPass'], 'Hz', 0.01, 100, 1e4, 'high-pass corner of the amplifier'),
  driveAmplitude: kind(
    ['/drive/x/readAmplitude', '/drive/y/readAmplitude'],
    'A',
    0.5,
    1.5,
    0.37,
    'read currents, in proportion',
  ),
  driveRise: kind(
    ['/drive/x/rise', '/drive/y/rise'],
    's',
    0.2,
    6,
    40e-9,
    'rise times of X and Y, in proportion',
  ),
  driveRiseX: kind(['/drive/x/rise'], 's', 0.2, 6, 40e-9, 'rise time of X'),
  driveRiseY: kind(['/drive/y/rise'], 's', 0.2, 6, 40e-9, 'rise time of Y'),
  driveFall: kind(
    ['/drive/x/fall', '/drive/y/fall'],
    's',
    0.2,
    6,
    40e-9,
    'fall times of X and Y, in proportion',
  ),
  inhibitAmplitude: kind(['/drive/inhibit/amplitude'], 'A', 0.3, 1.7, 0.34, 'inhibit current'),
} as const satisfies Record<string, UnknownKind>;
export type UnknownName = keyof typeof UNKNOWNS;
