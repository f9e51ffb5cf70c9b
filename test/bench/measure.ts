import { Bench } from 'tinybench';
import { quantile } from '../../engine/numerics/statistics.ts';

/** Milliseconds of one call: median and quartiles over the samples. */
export interface Figure {
  readonly median: number;
  readonly low: number;
  readonly high: number;
  readonly samples: number;
}

/**
 * CPU time of this process, ms: what a machine shared with others disturbs least, threads that collect garbage or
 * compile included. For work done elsewhere (workers, a server, a browser) take the wall clock.
 */
export const cpuClock = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
export const wallClock = (): number => performance.now();

export interface MeasureOptions {
  readonly clock?: () => number;
  /** ms to spend on samples, and the least number of them. */
  readonly time?: number;
  readonly least?: number;
}

export async function measure(work: () => unknown, options: MeasureOptions = {}): Promise<Figure> {
  const { clock = cpuClock, time = 700, least = 5 } = options;
  const bench = new Bench({
    now: clock,
    time,
    iterations: least,
    warmupTime: time / 4,
    warmupIterations: Math.min(3, least),
    retainSamples: true,
    throws: true,
  });
  bench.add('work', async () => {
    await work();
  });
  await bench.run();
  const { result } = bench.tasks[0]!;
  if (result.state !== 'completed') throw new Error(`Measuring ended as ${result.state}.`);
  return figureOf(result.latency.samples!);
}

export function figureOf(samples: readonly number[]): Figure {
  return {
    median: quantile(samples, 0.5),
    low: quantile(samples, 0.25),
    high: quantile(samples, 0.75),
    samples: samples.length,
  };
}

/** Exponent p of time ~ size^p by least squares on logarithms. */
export function fitExponent(sizes: readonly number[], times: readonly number[]): number {
  const x = sizes.map(Math.log);
  const y = times.map(Math.log);
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
  const [mx, my] = [mean(x), mean(y)];
  const up = x.reduce((sum, v, i) => sum + (v - mx) * (y[i]! - my), 0);
  return up / x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
}
