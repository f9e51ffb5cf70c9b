import { createRequire } from 'node:module';
import { makeRates } from './equation-rates.ts';
import type { EquationSystem } from './same-equations.ts';

/** What is used of the library (CommonJS, no types of its own). */
interface OdexSolver {
  relativeTolerance: number;
  absoluteTolerance: number;
  denseOutput: boolean;
  denseComponents: number[];
  maxSteps: number;
  solve(
    f: (t: number, y: readonly number[]) => number[],
    t0: number,
    y0: readonly number[],
    t1: number,
    out: (
      nr: number,
      told: number,
      t: number,
      y: readonly number[],
      dense: (component: number, t: number) => number,
    ) => void,
  ): { readonly y: number[]; readonly outcome: number; readonly nEval: number };
}

const { Solver } = createRequire(import.meta.url)('odex') as { Solver: new (size: number) => OdexSolver };

export interface Solved {
  /** v_B - v_A at every output sample, V. */
  readonly u: Float64Array;
  readonly evaluations: number;
}

/** Extrapolation of the explicit midpoint rule (ODEX), from one slope jump to the next. */
export function solveOdex(system: EquationSystem, tolerance: number): Solved {
  const rates = makeRates(system);
  const step = system.output / 1e-9;
  const samples = Math.floor(system.period / system.output + 1e-9) + 1;
  const u = new Float64Array(samples);
  let y = rates.start;
  let next = 1;
  let evaluations = 0;
  for (const [index, [from, to]] of rates.spans.entries()) {
    rates.enter(index);
    const solver = new Solver(rates.size);
    solver.relativeTolerance = solver.absoluteTolerance = tolerance;
    solver.denseOutput = true;
    solver.denseComponents = [0, system.sections];
    solver.maxSteps = 1_000_000;
    const f = (t: number, state: readonly number[]): number[] => {
      const out: number[] = Array.from({ length: rates.size });
      rates.evaluate(t, state, out);
      return out;
    };
    const solved = solver.solve(f, from, y, to, (_, told, t, _y, dense) => {
      if (t === told) return;
      while (next < samples && next * step <= t + 1e-9) {
        u[next] = dense(system.sections, next * step) - dense(0, next * step);
        next++;
      }
    });
    if (solved.outcome !== 0)
      throw new RangeError(`The library solver gave up between ${from} and ${to} ns.`);
    y = solved.y;
    evaluations += solved.nEval;
  }
  return { u, evaluations };
}
