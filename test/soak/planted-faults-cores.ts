import type { PlantedFault } from './planted-faults.ts';

const MEASURED = ['physics/core-measured.test.ts'];
const TOGETHER = ['soak/measured-core.soak.ts'];
const LOOP = ['physics/drive-line-loop.test.ts'];

/** One fault for each check against the measured core, and those of loops that are solved: the check of that name must fail. */
export const FAULTS_OF_CORES: readonly PlantedFault[] = [
  {
    name: 'V1: all rings have one radius',
    file: 'engine/core/model.ts',
    from: '1 + r * ((2 * k + 1) / RINGS - 1)',
    to: '1 + 0 * r * ((2 * k + 1) / RINGS - 1)',
    tests: MEASURED,
    named: 'V1: rings',
  },
  {
    name: 'V1: the interval of a fit is not widened for neighbours that miss alike',
    file: 'engine/fitting/jig/fit-traces.ts',
    from: 'Math.max(1, rms / sigma) * Math.sqrt(samples / independent)',
    to: '0.01 * Math.sqrt(samples / independent)',
    tests: MEASURED,
    named: 'V1: intervals',
  },
  {
    name: 'V2: the source does not give way',
    file: 'engine/fitting/jig/core-under-current.ts',
    from: '- sag * switching',
    to: '- 0 * sag * switching',
    tests: MEASURED,
    named: 'V2',
  },
  {
    name: 'V4: a core comes to rest as a charge leaks away, not as a bell',
    file: 'engine/core/model.ts',
    from: 'const u1 = (u0 + T) / (1 + u0 * T);',
    to: 'const u1 = u0 + T * (1 - u0);',
    tests: MEASURED,
    named: 'V4',
  },
  {
    name: 'V5: half pulses leave nothing behind',
    file: 'engine/fitting/jig/trace-model.ts',
    from: 'scale * train.drive',
    to: '0 * scale * train.drive',
    tests: TOGETHER,
    named: 'V5',
  },
  {
    name: 'V6: what a fit finds is known exactly',
    file: 'engine/fitting/jig/fit-traces.ts',
    from: '{ low: Math.max(low, value - half), high: Math.min(high, value + half), from',
    to: '{ low: value, high: value + 0 * (low + high + half), from',
    tests: TOGETHER,
    named: 'V6',
  },
  {
    name: 'V7: the decaying part stands still',
    file: 'engine/core/model.ts',
    from: 'return target + (psi - target) * Math.exp(',
    to: 'return psi + 0 * (psi - target) * Math.exp(',
    tests: MEASURED,
    named: 'V7',
  },
  {
    name: 'loop: the guess of a step is not settled',
    file: 'engine/solver/settle-guess.ts',
    from: 'const MAX_TRIALS = 24;',
    to: 'const MAX_TRIALS = 0;',
    tests: LOOP,
  },
  {
    name: 'loop: a current lands where two values before let expect it',
    file: 'engine/solver/settle-landing.ts',
    from: 'const MAX_TRIES = 8;',
    to: 'const MAX_TRIES = 0;',
    tests: ['physics/landing.test.ts'],
  },
  {
    name: 'outcome: whatever is missing, a run is done',
    file: 'engine/simulate/outcome.ts',
    from: 'const MAX_UNACCOUNTED = 0.01;',
    to: 'const MAX_UNACCOUNTED = 10;',
    tests: ['engine/simulate/unsettled.test.ts'],
  },
];
