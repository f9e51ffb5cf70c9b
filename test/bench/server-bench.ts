import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { engine } from './built-engine.ts';

import { serve } from '../../server/serve.ts';
import { squareMat } from './bench-designs.ts';
import { measure, wallClock } from './measure.ts';
import type { BenchContext } from './table.ts';

/** A design over HTTP and its answer back, beside the same run in this process. */
export async function benchServer(bench: BenchContext): Promise<void> {
  bench.heading('Server round trip, wall time');
  const dataFolder = await mkdtemp(join(tmpdir(), 'strobewright-bench-'));
  const serving = await serve({
    host: '127.0.0.1',
    port: 0,
    dataFolder,
    workers: 1,
    limits: { requestsPerMinute: 1_000_000 },
  });
  const post = async (path: string, size: number): Promise<number> => {
    const answer = await fetch(`${serving.address}/api/v1/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ mat: { rows: size, columns: size } }),
    });
    const body = await answer.arrayBuffer();
    if (answer.status !== 200) throw new Error(`${path} answered ${answer.status}.`);
    return body.byteLength;
  };
  const options = { clock: wallClock, time: bench.quick ? 200 : 600 };
  try {
    const health = async (): Promise<unknown> => (await fetch(`${serving.address}/healthz`)).text();
    bench.row('health', await measure(health, options));
    for (const size of [8, 32]) {
      const design = squareMat(size);
      const here = await measure(() => engine.simulate(design), options);
      const baseline = { name: 'the run alone', median: here.median };
      const bytes = await post('simulations', size);
      const trip = await measure(() => post('simulations', size), options);
      bench.row(`simulation ${size} x ${size}, ${Math.round(bytes / 1024)} kB`, trip, baseline);
      const run = engine.simulate(design);
      bench.row(
        '  of that, written as JSON',
        await measure(() => engine.simulationJson(run), options),
        baseline,
      );
    }
    bench.row('window 8 x 8', await measure(() => post('windows', 8), { ...options, least: 3 }));
  } finally {
    await serving.close();
    await rm(dataFolder, { recursive: true });
  }
}
