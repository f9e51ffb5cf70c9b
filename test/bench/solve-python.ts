import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { EquationSystem } from './same-equations.ts';

export interface StiffRun {
  readonly tolerance: number;
  /** CPU seconds of the integration alone. */
  readonly seconds: number;
  readonly evaluations: number;
  readonly u: readonly number[];
}

const SCRIPT = fileURLToPath(new URL('stiff_reference.py', import.meta.url));
/** One thread, so that CPU time is comparable. */
const ENV = { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' };

/** SciPy's stiff solver on the same equations; a text says why it could not be asked. */
export function solvePython(
  system: EquationSystem,
  tolerances: readonly number[],
): readonly StiffRun[] | string {
  const probe = spawnSync('python3', ['-c', 'import scipy; print(scipy.__version__)'], { encoding: 'utf8' });
  if (probe.status !== 0) return 'python3 with SciPy is not at hand';
  const run = spawnSync('python3', [SCRIPT], {
    input: JSON.stringify({ system, tolerances }),
    encoding: 'utf8',
    env: ENV,
    maxBuffer: 1 << 28,
  });
  if (run.status !== 0)
    return `SciPy ${probe.stdout.trim()} gave up: ${run.stderr.trim().split('\n').at(-1)}`;
  return JSON.parse(run.stdout) as StiffRun[];
}
