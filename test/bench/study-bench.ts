import { readFile } from 'node:fs/promises';

import { engine } from './built-engine.ts';
import { inPackage } from '../../server/package-root.ts';
import { computePoints } from '../../server/study-job.ts';
import { createWorkerPool } from '../../server/worker-pool.ts';
import { squareMat } from './bench-designs.ts';
import { cpuClock, figureOf, measure, wallClock } from './measure.ts';
import type { BenchContext } from './table.ts';

/** The scale study here, the tolerance study on the server's workers (F4). */
export async function benchStudies(bench: BenchContext): Promise<void> {
  bench.heading('Studies');
  const run = squareMat(16);
  const one = await measure(() => engine.simulate(run, { contributions: false, estimateError: false }), {
    time: 200,
  });
  const baseline = { name: 'one bare 16 x 16 run', median: one.median };
  const scale = engine.planStudy({
    kind: 'scale',
    design: {},
    options: { sizes: [4, 8, 16, 32], largest: false },
  });
  const all = await measure(() => scale.points.map((_, i) => engine.evaluatePoint(scale, i)), {
    time: bench.quick ? 1 : 700,
    least: bench.quick ? 1 : 3,
  });
  bench.row(`scale, ${scale.points.length} mats up to 32 x 32, ${scale.runs} runs, CPU`, all, baseline);

  const text = await readFile(inPackage('fixtures', 'designs', 'tide-recorder-first-try-16x16.json'), 'utf8');
  const draws = bench.full ? 1000 : bench.quick ? 20 : 300;
  const plan = engine.planStudy({ kind: 'tolerance', design: JSON.parse(text), options: { draws, seed: 1 } });
  const indices = plan.points.map((_, index) => index);
  let alone: { name: string; median: number } | undefined;
  for (const threads of [1, 2]) {
    const pool = createWorkerPool({ threads, queue: Infinity, timeLimit: 600_000, grace: 150 });
    const control = {
      run: (task: Parameters<typeof pool.run>[0]) => pool.run(task),
      threads,
      report: () => undefined,
      stopped: () => false,
    };
    try {
      await computePoints(plan, indices.slice(0, 4 * threads), control);
      const from = wallClock();
      const cpuFrom = cpuClock();
      const results = await computePoints(plan, indices, control);
      const spent = wallClock() - from;
      const cpu = cpuClock() - cpuFrom;
      const failed = results.filter((result) => result.failed !== undefined).length;
      bench.row(
        `tolerance 16 x 16, ${draws} draws, ${plan.runs} runs, ${threads} worker${threads > 1 ? 's' : ''}, wall`,
        figureOf([spent]),
        alone,
      );
      if (failed > 0) bench.note(`${failed} draws failed.`);
      bench.note(`CPU time of all threads: ${(cpu / draws).toFixed(1)} ms a draw.`);
      if (threads === 2)
        bench.aim(
          'F4',
          `1,000 draws${draws === 1000 ? '' : `, taken from ${draws}`}`,
          (1000 * spent) / draws,
          5_000,
        );
      if (alone) bench.aim('F4', 'two workers, one worker’s time over 1.8', spent, alone.median / 1.8);
      alone ??= { name: '1 worker', median: spent };
    } finally {
      await pool.close();
    }
  }
}
