import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { EquationSystem } from './same-equations.ts';
import type { StiffRun } from './solve-python.ts';

const SOURCE = fileURLToPath(new URL('stiff_reference.c', import.meta.url));

/** CVODE on the same equations, compiled on the spot; a text says why it could not be asked. */
export function solveC(system: EquationSystem, tolerances: readonly number[]): readonly StiffRun[] | string {
  const folder = mkdtempSync(join(tmpdir(), 'stiff-'));
  try {
    const program = join(folder, 'stiff');
    const libraries = ['-lsundials_cvode', '-lsundials_nvecserial', '-lm'];
    const compiled = spawnSync('cc', ['-O2', '-o', program, SOURCE, ...libraries], { encoding: 'utf8' });
    if (compiled.error) return 'no C compiler is at hand';
    if (compiled.status !== 0) return 'SUNDIALS (libsundials-dev) is not at hand for the C compiler';
    const input = numbersOf(system, tolerances).join(' ');
    const run = spawnSync(program, { input, encoding: 'utf8', maxBuffer: 1 << 28 });
    if (run.status !== 0) return `CVODE gave up (${run.status ?? run.signal})`;
    return run.stdout.trim().split('\n').map(readRun);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Everything in the order in which stiff_reference.c reads it. */
function numbersOf(system: EquationSystem, tolerances: readonly number[]): readonly number[] {
  const { classes: c, drive } = system;
  return [
    system.sections,
    c.count.length,
    drive.time.length,
    system.lossTime,
    system.period,
    system.output,
    ...[system.resistance, system.inductance, system.capacitance, system.capacitanceOff].flat(),
    ...[system.conductance, system.injection, ...system.air, drive.time, ...drive.currents].flat(),
    ...[c.section, c.count, c.polarity, c.bias, c.phiR, c.phiS, c.coercive, c.kneeWidth].flat(),
    ...[c.threshold, c.softWidth, c.rho, c.elasticA, c.elasticB, c.bend].flat(),
    ...[c.factorX, c.factorY, c.factorInhibit, c.phi0].flat(),
    tolerances.length,
    ...tolerances,
  ];
}

function readRun(line: string): StiffRun {
  const [tolerance, seconds, evaluations, ...u] = line.split(' ').map(Number);
  return { tolerance: tolerance!, seconds: seconds!, evaluations: evaluations!, u };
}
