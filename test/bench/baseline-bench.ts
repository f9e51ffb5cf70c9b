import { engine } from './built-engine.ts';
import type { Design } from '../../engine/design/design.ts';
import { plainMat, squareMat } from './bench-designs.ts';
import { makeRates } from './equation-rates.ts';
import { cpuClock, figureOf, measure } from './measure.ts';
import { equationsOf, type EquationSystem } from './same-equations.ts';
import { solveC } from './solve-c.ts';
import { solveOdex } from './solve-odex.ts';
import { solvePython } from './solve-python.ts';
import type { BenchContext } from './table.ts';

/**
 * The engine beside general-purpose integrators on the same equations at the same accuracy: every error is the
 * greatest difference of v_B - v_A from the engine's own run with every step cut in 16, and a library solver gets the
 * loosest tolerance at which it is no worse than the engine.
 */
export async function benchBaselines(bench: BenchContext): Promise<void> {
  bench.heading('Same equations, same accuracy, CPU time: explicit library solver (odex), no ferrite loss');
  bench.note(
    '(The loss lag of a nanosecond makes the ladder stiff; odex then takes millions of evaluations.)',
  );
  const lossless = squareMat(8, 1, { wire: { couplingCapacitance: '0 pF', lossTime: '0 ns' } });
  const engine = await own(bench, '8 x 8 without loss', lossless);
  const system = equationsOf(lossless);
  for (const tolerance of [1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7]) {
    const from = cpuClock();
    const { u, evaluations } = solveOdex(system, tolerance);
    const spent = cpuClock() - from;
    if (engine.miss(u) > engine.error) continue;
    bench.row(`odex, tolerance ${tolerance}, ${evaluations} evaluations`, figureOf([spent]), engine.figure);
    bench.note(`error ${microvolts(engine.miss(u))}`);
    break;
  }

  const sizes = bench.quick ? [8, 64] : [8, 32, 64, 128];
  bench.heading('Same equations, same accuracy, CPU time: stiff library solver in C (CVODE of SUNDIALS)');
  for (const size of sizes) if ((await besideStiff(bench, size, 'CVODE', solveC)) === undefined) break;

  bench.heading('Same equations, same accuracy, CPU time: stiff library solver (LSODA of SciPy)');
  for (const size of bench.quick ? [8] : [8, 32, 64]) {
    const beside = await besideStiff(bench, size, 'LSODA', solvePython);
    if (beside === undefined) break;
    if (beside.evaluations === 0) continue;
    const each = await rateCost(beside.system);
    bench.row('its evaluations alone, compiled', figureOf([beside.evaluations * each]), beside.engine.figure);
    bench.note('the second line leaves out its linear algebra');
  }
}

type StiffSolver = typeof solvePython;

/** One size beside a stiff solver; undefined where the solver is not at hand, no evaluations where it stays worse. */
async function besideStiff(bench: BenchContext, size: number, name: string, solve: StiffSolver) {
  const design = plainMat(size);
  const system = equationsOf(design);
  const runs = solve(system, [1e-2, 1e-3, 1e-4, 1e-5]);
  if (typeof runs === 'string') {
    bench.note(`Skipped: ${runs}.`);
    return undefined;
  }
  const engine = await own(bench, `${size} x ${size}`, design);
  const good = runs.find((run) => engine.miss(run.u) <= engine.error);
  if (good === undefined)
    bench.note(`${name} stays at ${microvolts(Math.min(...runs.map((run) => engine.miss(run.u))))}.`);
  else {
    const { tolerance, seconds, evaluations } = good;
    const what = `${name}, tolerance ${tolerance}, ${evaluations} evaluations`;
    bench.row(what, figureOf([1000 * seconds]), engine.figure);
    bench.note(`error ${microvolts(engine.miss(good.u))}`);
  }
  return { engine, system, evaluations: good?.evaluations ?? 0 };
}

interface Own {
  readonly figure: { readonly name: string; readonly median: number };
  /** V. */
  readonly error: number;
  readonly miss: (u: ArrayLike<number>) => number;
}

async function own(bench: BenchContext, name: string, design: Design): Promise<Own> {
  const options = { contributions: false, estimateError: false };
  const reference = engine.simulate(design, { ...options, refine: 16 }).senseVoltage;
  const miss = (u: ArrayLike<number>): number =>
    reference.reduce((most, v, i) => Math.max(most, Math.abs(v - u[i]!)), 0);
  const error = miss(engine.simulate(design, options).senseVoltage);
  const figure = await measure(() => engine.simulate(design, options), { time: 400 });
  bench.row(`${name}, engine, total alone`, figure);
  bench.note(`error ${microvolts(error)}, peak ${microvolts(Math.max(...reference.map(Math.abs)))}`);
  return { figure: { name: 'engine', median: figure.median }, error, miss };
}

/** ms of one evaluation of the right-hand side in compiled JavaScript, in the first edge. */
async function rateCost(system: EquationSystem): Promise<number> {
  const rates = makeRates(system);
  const [from, to] = rates.spans.find(([a, b]) => b > a)!;
  rates.enter(rates.spans.findIndex(([a, b]) => b > a));
  const out: number[] = [];
  const many = 200;
  const { median } = await measure(
    () => {
      for (let i = 0; i < many; i++) rates.evaluate((from + to) / 2, rates.start, out);
    },
    { time: 200 },
  );
  return median / many;
}

const microvolts = (volts: number): string => `${(1e6 * volts).toPrecision(3)} uV`;
