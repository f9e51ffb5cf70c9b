import { engine } from './built-engine.ts';
import type { SimulateOptions } from '../../engine/solver/result.ts';
import { allDifferent, squareMat } from './bench-designs.ts';
import { measure } from './measure.ts';
import type { BenchContext } from './table.ts';

/** One run in every size: F1, F2 and memory. Ratios are to the 8 x 8 run of the same minute. */
/** ms that one run of a square mat may take. */
const AIMS: Readonly<Record<number, number>> = { 8: 6, 64: 20, 128: 40 };

export async function benchEngine(bench: BenchContext): Promise<void> {
  bench.heading('Engine, CPU time of one run, all contributions, no companion run');
  const sizes = bench.quick ? [8, 32, 64] : [8, 32, 64, 128];
  // The first runs of a process are compiled meanwhile.
  await measure(() => engine.simulate(squareMat(8), { estimateError: false }), { time: 500 });
  let small: { name: string; median: number } | undefined;
  for (const cycles of [1, 10])
    for (const different of [false, true])
      for (const size of sizes) {
        if (bench.quick && cycles === 10 && different) continue;
        const design = squareMat(size, cycles);
        const options: SimulateOptions = {
          estimateError: false,
          spread: different ? allDifferent(size) : undefined,
        };
        const { method } = engine.simulate(design, options);
        const figure = await measure(() => engine.simulate(design, options), {
          time: bench.quick ? 200 : 700,
        });
        const words = `${size} x ${size}, ${different ? 'all different' : 'alike'}, ${cycles === 1 ? '1 cycle' : '10 cycles'}`;
        bench.row(`${words} (${method.sections} s, ${method.classes} c, ${method.steps} st)`, figure, small);
        small ??= { name: '8 x 8', median: figure.median };
        const aim = cycles === 1 && !different ? AIMS[size] : undefined;
        if (aim !== undefined) bench.aim('F1', `${size} x ${size}`, figure.median, aim);
        if (aim !== undefined && size === 128)
          bench.aim('F2', '128 x 128, twenty times 8 x 8', figure.median, 20 * small.median);
      }
  bench.heading('The same, one cycle, alike: what is left out or added');
  for (const size of sizes) {
    const design = squareMat(size);
    const whole = await measure(() => engine.simulate(design, { estimateError: false }), { time: 300 });
    const baseline = { name: 'all contributions', median: whole.median };
    const total = await measure(
      () => engine.simulate(design, { estimateError: false, contributions: false }),
      {
        time: 300,
      },
    );
    bench.row(`${size} x ${size}, total alone`, total, baseline);
    bench.row(
      `${size} x ${size}, with error estimate`,
      await measure(() => engine.simulate(design), { time: 300 }),
      baseline,
    );
  }
  bench.note(
    `Greatest memory of this process so far: ${Math.round(process.resourceUsage().maxRSS / 1024)} MB.`,
  );
}
