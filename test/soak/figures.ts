import { basename } from 'node:path';
import { expect } from 'vitest';
import { record } from './table.ts';

/** One line a figure, beside what is aimed at, and its row in the table of test/soak/README.md. */
export function tell(id: string, what: string, figure: string, target: string): void {
  process.stdout.write(`${id}  ${what}: ${figure} (target ${target})\n`);
  const test = basename(expect.getState().testPath ?? '').replace('.soak.ts', '');
  record({ id, what, figure, target, test });
}

export const milliseconds = (value: number): string =>
  `${value < 10 ? value.toFixed(1) : Math.round(value)} ms`;

/** The q-quantile of some numbers. */
export function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))];
}

/** ms that some work takes, and what it gives. */
export async function timed<T>(
  work: () => Promise<T>,
): Promise<{ readonly value: T; readonly time: number }> {
  const start = performance.now();
  const value = await work();
  return { value, time: performance.now() - start };
}

/**
 * True until this process has worked so many ms, or twice as many have passed by the clock: what a slow or
 * loaded machine leaves out by then is told, not failed. `SOAK_PATIENCE=N` waits N times as long.
 */
export function patience(usual: number): () => boolean {
  const time = usual * Number(process.env.SOAK_PATIENCE ?? 1);
  const end = Date.now() + 2 * time;
  const before = process.cpuUsage();
  return () => {
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000 < time && Date.now() < end;
  };
}
