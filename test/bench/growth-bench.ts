import { engine } from './built-engine.ts';
import type { Design } from '../../engine/design/design.ts';
import type { SimulateOptions } from '../../engine/solver/result.ts';

import { computePoints } from '../../server/study-job.ts';
import { createWorkerPool } from '../../server/worker-pool.ts';
import { allDifferent, squareMat } from './bench-designs.ts';
import { cpuClock, figureOf, fitExponent, measure, wallClock } from './measure.ts';
import type { BenchContext } from './table.ts';

/** Time against what it grows with, each alone as far as it can be, with the fitted exponent. */
export async function benchGrowth(bench: BenchContext): Promise<void> {
  bench.heading('Growth, CPU time of one run, all contributions, no companion run');
  const time = bench.quick ? 100 : 400;
  const series = async (
    words: string,
    runs: readonly (readonly [size: number, name: string, design: Design, options?: SimulateOptions])[],
  ): Promise<void> => {
    const times: number[] = [];
    for (const [, name, design, options] of runs) {
      const figure = await measure(() => engine.simulate(design, { estimateError: false, ...options }), {
        time,
      });
      bench.row(name, figure);
      times.push(figure.median);
    }
    const sizes = runs.map(([size]) => size);
    const tail = fitExponent(sizes.slice(-3), times.slice(-3));
    bench.note(
      `time ~ ${words}^${fitExponent(sizes, times).toFixed(2)} over all, ^${tail.toFixed(2)} over the last three`,
    );
  };

  await series(
    'sections',
    [8, 16, 32, 64, 128, 256].map((n) => {
      const design = squareMat(32, 1, { numerics: { sections: n } });
      return [n, `32 x 32, ${n} sections asked for`, design] as const;
    }),
  );
  await series(
    'classes',
    [8, 16, 32, 64].map((n) => {
      const design = squareMat(n, 1, { numerics: { sections: 16, step: '1 ns' } });
      return [
        n * n,
        `${n} x ${n} all different: ${n * n} classes`,
        design,
        { spread: allDifferent(n) },
      ] as const;
    }),
  );
  await series(
    'steps',
    [1, 2, 4, 8].map((refine) => {
      const design = squareMat(16);
      const { steps } = engine.simulate(design, { estimateError: false, refine }).method;
      return [steps, `16 x 16, ${steps} steps`, design, { refine }] as const;
    }),
  );
  await series(
    'cycles',
    [1, 3, 10, 30].map((cycles) => [cycles, `16 x 16, ${cycles} cycles`, squareMat(16, cycles)] as const),
  );
  await series(
    'cores',
    (bench.quick ? [8, 16, 32, 64] : [8, 16, 32, 64, 128]).map(
      (n) => [n * n, `${n} x ${n} alike: ${n * n} cores`, squareMat(n)] as const,
    ),
  );
  await growStudy(bench);
}

/** Draws and workers: CPU time of all threads and wall time of a tolerance study on 8 x 8. */
async function growStudy(bench: BenchContext): Promise<void> {
  const design = { mat: { rows: 8, columns: 8 } };
  const draws = bench.quick ? [10, 20, 40] : [25, 50, 100, 200];
  for (const threads of [1, 2]) {
    const pool = createWorkerPool({ threads, queue: Infinity, timeLimit: 600_000, grace: 150 });
    const run = (task: Parameters<typeof pool.run>[0]): ReturnType<typeof pool.run> => pool.run(task);
    const control = { run, threads, report: () => undefined, stopped: () => false };
    try {
      const times: number[] = [];
      for (const [i, count] of [draws[0]!, ...draws].entries()) {
        const plan = engine.planStudy({ kind: 'tolerance', design, options: { draws: count, seed: 1 } });
        const from = wallClock();
        const cpuFrom = cpuClock();
        await computePoints(
          plan,
          plan.points.map((_, index) => index),
          control,
        );
        if (i === 0) continue;
        times.push(cpuClock() - cpuFrom);
        const wall = wallClock() - from;
        bench.row(`8 x 8, ${count} draws, ${threads} workers, CPU`, figureOf([times.at(-1)!]), {
          name: 'wall',
          median: wall,
        });
      }
      bench.note(`CPU time ~ draws^${fitExponent(draws, times).toFixed(2)} with ${threads} workers`);
    } finally {
      await pool.close();
    }
  }
}
