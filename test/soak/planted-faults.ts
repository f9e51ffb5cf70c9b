import { FAULTS_OF_CORES } from './planted-faults-cores.ts';
import { FAULTS_AROUND } from './planted-faults-around.ts';

/** One planted fault: the source is changed in one place and at least one of the named tests must fail. */
export interface PlantedFault {
  readonly name: string;
  readonly file: string;
  readonly from: string;
  readonly to: string;
  /** Test files that ought to catch it, below test/. */
  readonly tests: readonly string[];
  /** How the test begins that ought to fail, where it is one of those alone. */
  readonly named?: string;
}

const CORE = ['physics/core.test.ts', 'physics/core-consistency.test.ts'];
const STROBE = ['engine/strobe/strobe-window.test.ts'];

const FAULTS_OF_PHYSICS: readonly PlantedFault[] = [
  {
    name: 'sign: the elastic part softens toward saturation',
    file: 'engine/core/model.ts',
    from: 'return a * F - b * (phi / p.remanentFlux)',
    to: 'return a * F + b * (phi / p.remanentFlux)',
    tests: CORE,
  },
  {
    name: 'factor two: half the switching rate',
    file: 'engine/core/model.ts',
    from: 'Math.tanh((2 * vP * h) / D)',
    to: 'Math.tanh((vP * h) / D)',
    tests: CORE,
  },
  {
    name: 'missing term: the elastic flux does not follow the state',
    file: 'engine/core/model.ts',
    from: 'return (-b * (Math.hypot(F, p.elasticBend) - p.elasticBend)) / p.remanentFlux;',
    to: 'return 0 * b * F;',
    tests: CORE,
  },
  {
    name: 'sign: temperature hardens the core',
    file: 'engine/core/model.ts',
    from: 'p.driveTemperatureCoefficient * (celsius - 25)',
    to: 'p.driveTemperatureCoefficient * (25 - celsius)',
    tests: CORE,
  },
  {
    name: 'lost order: the step formula forgets the step before',
    file: 'engine/solver/difference.ts',
    from: 'const w = hOld === 0 ? 0 : h / hOld;',
    to: 'const w = hOld < 0 ? h / hOld : 0;',
    tests: ['physics/convergence.test.ts'],
  },
  {
    name: 'lost order: cores move at the drive of the start of the step',
    file: 'engine/solver/wire-state.ts',
    from: 'jMid[k] = (j[k]! + guess) / 2;',
    to: 'jMid[k] = j[k]!;',
    tests: ['physics/convergence.test.ts', 'physics/independent-routes.test.ts'],
  },
  {
    name: 'lost order: mid-step drive taken at the end of the step',
    file: 'engine/solver/take-step.ts',
    from: 'mid.x = (now.x + next.x) / 2;',
    to: 'mid.x = next.x;',
    tests: ['physics/convergence.test.ts', 'physics/independent-routes.test.ts'],
  },
  {
    name: 'swapped halves: both halves have one polarity',
    file: 'engine/mat/winding.ts',
    from: 'return inFirstHalf(mat, r, c) ? 1 : -1;',
    to: 'return inFirstHalf(mat, r, c) ? 1 : 1;',
    tests: ['physics/half-select.test.ts', 'physics/convergence.test.ts'],
  },
  {
    name: 'off by one: a diagonal too few alternates',
    file: 'engine/mat/winding.ts',
    from: 'return (r + c) % 2 === 0 ? 1 : -1;',
    to: 'return r % 2 === 0 ? 1 : -1;',
    tests: ['physics/half-select.test.ts'],
  },
  {
    name: 'missing term: no current through the coupling inductance of Y',
    file: 'engine/network/coupling.ts',
    from: 'addAir(airY, core, wire.mutualY)',
    to: 'addAir(airY, core, 0 * wire.mutualY)',
    tests: ['physics/mat.test.ts', 'physics/wire.test.ts', 'physics/independent-routes.test.ts'],
  },
  {
    name: 'wrong share: the averaged capacitance loses a sixth',
    file: 'engine/solver/ladder.ts',
    from: 'export const OWN_SHARE = 5 / 12;',
    to: 'export const OWN_SHARE = 4 / 12;',
    tests: ['physics/mat.test.ts', 'physics/wire.test.ts', 'physics/independent-routes.test.ts'],
  },
  {
    name: 'attribution: reversible answer of half-selected cores booked as irreversible',
    file: 'engine/solver/contributions.ts',
    from: 'W[at + REVERSIBLE] = reversible +',
    to: 'W[at + REVERSIBLE] = 0 * reversible +',
    tests: ['physics/convergence.test.ts'],
  },
  {
    name: 'energy: heat in the terminations is forgotten',
    file: 'engine/solver/energy-balance.ts',
    from: 'heat += bare * voltage * voltage;',
    to: 'heat += 0 * bare * voltage * voltage;',
    tests: ['physics/convergence.test.ts'],
  },
  {
    name: 'inhibit: the current enters at the wrong end',
    file: 'engine/network/sections.ts',
    from: 'injection[0] = -1;\n      injection[count] = 1;',
    to: 'injection[0] = 1;\n      injection[count] = -1;',
    tests: ['physics/mat.test.ts', 'physics/wire.test.ts', 'physics/common-practice-8x8.test.ts'],
  },
  {
    name: 'inhibit: the lag after the write pulse is left out',
    file: 'engine/drive/programme.ts',
    from: '+ drive.inhibit.lag',
    to: '- drive.inhibit.lag',
    tests: [
      'engine/warnings/design-warnings.test.ts',
      'physics/mat.test.ts',
      'physics/wire.test.ts',
      'physics/common-practice-8x8.test.ts',
    ],
  },
  {
    name: 'unit slip: oersted read as ampere per metre',
    file: 'engine/core/geometry.ts',
    from: '1000 / (4 * Math.PI)',
    to: '1000 / Math.PI',
    tests: ['physics/geometry.test.ts'],
  },
  {
    name: 'unit slip: the sign for ohm is not understood, so milliohm becomes metre-something',
    file: 'engine/base/units.ts',
    from: ".replace(/[\\u03A9\\u2126]/gu, 'ohm')",
    to: ".replace(/[\\u03A9]/gu, 'm')",
    tests: ['engine/base/units.test.ts'],
  },
  {
    name: 'seed reuse: every index draws the same stream',
    file: 'engine/numerics/random.ts',
    from: 'absorb(absorb(0, seed), index)',
    to: 'absorb(absorb(0, seed), 0 * index)',
    tests: ['engine/numerics/random.test.ts'],
  },
  {
    name: 'statistics: Wilson interval without its centre shift',
    file: 'engine/numerics/statistics.ts',
    from: 'p + (z * z) / (2 * trials)',
    to: 'p + 0 * (z * z) / (2 * trials)',
    tests: ['engine/numerics/statistics.test.ts'],
  },
  {
    name: 'margin: uncertainty widens the window instead of narrowing it',
    file: 'engine/strobe/intervals.ts',
    from: '-1, slope) + uncertainty',
    to: '-1, slope) - uncertainty',
    tests: STROBE,
  },
  {
    name: 'strobe: the guard time is not taken off',
    file: 'engine/strobe/intervals.ts',
    from: 'start: start + guard + delay',
    to: 'start: start + delay',
    tests: STROBE,
  },
  {
    name: 'rectifier: a negative signal is not heard',
    file: 'engine/sense-amplifier/amplifier.ts',
    from: 'either ? Math.abs(output[i])',
    to: 'either ? Math.max(0, output[i])',
    tests: ['engine/sense-amplifier/amplifier.test.ts'],
  },
];

export const PLANTED_FAULTS: readonly PlantedFault[] = [
  ...FAULTS_OF_PHYSICS,
  ...FAULTS_OF_CORES,
  ...FAULTS_AROUND,
];
