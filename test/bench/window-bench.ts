import { engine } from './built-engine.ts';

import { squareMat } from './bench-designs.ts';
import { measure } from './measure.ts';
import type { BenchContext } from './table.ts';

/** The strobe window, and what follows a moved strobe (F3). */
export async function benchWindow(bench: BenchContext): Promise<void> {
  bench.heading('Strobe window, CPU time');
  for (const size of bench.quick ? [8] : [8, 32]) {
    const design = squareMat(size);
    const run = await measure(() => engine.simulate(design, { contributions: false, estimateError: false }), {
      time: 200,
    });
    const baseline = { name: 'one bare run', median: run.median };
    const found = engine.wholeWindow(design);
    const words = `${size} x ${size}`;
    const full = await measure(() => engine.wholeWindow(design), { least: 3 });
    bench.row(`${words}, full, ${found.cases.length} cases`, full, baseline);
    if (size === 32) bench.aim('F4', 'a window of 32 x 32', full.median, 500);
    const quick = engine.wholeWindow(design, { cases: 'quick' });
    bench.row(
      `${words}, quick, ${quick.cases.length} cases`,
      await measure(() => engine.wholeWindow(design, { cases: 'quick' }), { least: 3 }),
      baseline,
    );
    const envelope = engine.envelopeOf(found.envelope, design);
    const uncertainties = engine.strobeUncertainties(design);
    let moved = 0;
    const move = (): unknown =>
      engine.windowAt(
        envelope,
        { time: 1e-7 + 1e-9 * (moved++ % 100), threshold: design.detector.threshold },
        uncertainties,
      );
    const answered = await measure(move, { time: 200 });
    bench.row(`${words}, strobe moved`, answered, baseline);
    bench.aim('F3', 'a moved strobe', answered.median, 2);
    const raw = { mat: { rows: size, columns: size } };
    bench.row(
      `${words}, design checked`,
      await measure(() => engine.checkDesign(raw), { time: 200 }),
      baseline,
    );
  }
}
