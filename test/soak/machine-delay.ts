import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { milliseconds, quantile, tell } from './figures.ts';

const WATCHER = fileURLToPath(new URL('./machine-delay.mjs', import.meta.url));
/** A busy server waits for the processor more often than a bare process that mostly sleeps. */
const SHARE = 3;

export interface MachineDelay {
  /** ms added to a limit: three times what a bare process beside waited for the processor, its longest or 99 %. */
  readonly longest: number;
  readonly p99: number;
}

/**
 * How far the machine itself is behind while something is measured: what a bare process beside it waits for the
 * processor. Limits of time are held against their target plus this, so that a loaded machine is no fault of ours.
 */
export async function beside<T>(
  id: string,
  work: () => Promise<T>,
): Promise<{ readonly value: T; readonly delay: MachineDelay }> {
  const child = spawn(process.execPath, [WATCHER], { stdio: ['ignore', 'pipe', 'inherit'] });
  const late: number[] = [];
  child.stdout.on('data', (chunk: Buffer) => late.push(...chunk.toString().trim().split('\n').map(Number)));
  try {
    await once(child.stdout, 'data');
    const value = await work();
    // The turn that it is in may be the one that takes long.
    await once(child.stdout, 'data');
    const [p99, longest] = [quantile(late, 0.99), late.reduce((most, next) => Math.max(most, next), 0)];
    tell(
      id,
      `a bare process beside waited for the processor, 99 % and longest of ${late.length}`,
      `${milliseconds(p99)}, ${milliseconds(longest)}`,
      'none: a measure of the machine',
    );
    return { value, delay: { longest: SHARE * longest, p99: SHARE * p99 } };
  } finally {
    child.kill('SIGKILL');
  }
}
