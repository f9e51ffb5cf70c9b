import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import type { Runner, Task } from '../../server/task.ts';
import type { PoolOptions } from '../../server/worker-pool.ts';
import { createWorkerPool } from '../../server/worker-pool.ts';

const ODD = fileURLToPath(new URL('./workers/odd-worker.mjs', import.meta.url));

const pools: Runner[] = [];
afterEach(async () => {
  await Promise.all(pools.splice(0).map((pool) => pool.close()));
});

function poolOf(options: Partial<PoolOptions> = {}): Runner {
  const pool = createWorkerPool({
    threads: 1,
    queue: 8,
    timeLimit: 30_000,
    grace: 100,
    filename: ODD,
    memory: 64,
    ...options,
  });
  pools.push(pool);
  return pool;
}

const taskOf = (word: string): Task =>
  ({ kind: 'window', format: 'json', design: { name: word } }) as unknown as Task;
const does = async (pool: Runner, word: string): Promise<string> =>
  new TextDecoder().decode((await pool.run(taskOf(word))).body);
const codeOf = (promise: Promise<unknown>): Promise<string> =>
  promise.then(
    () => 'done',
    (error: { body?: { code: string } }) => error.body?.code ?? String(error),
  );

describe('a worker that is lost costs one job, by name, and the next one works', () => {
  it.each([
    ['exit', 'worker-lost'],
    ['throw', 'internal'],
    ['late-throw', 'internal'],
    ['memory', 'out-of-memory'],
  ])('%s is told as %s', async (word, code) => {
    const faults: unknown[] = [];
    const pool = poolOf({ onFault: (error) => faults.push(error) });
    expect(await codeOf(pool.run(taskOf(word)))).toBe(code);
    expect(await does(pool, 'next')).toBe('done next');
    expect(faults.length).toBeGreaterThan(0);
  });

  it('its neighbours are unharmed', async () => {
    const pool = poolOf({ threads: 2 });
    const [lost, neighbour] = await Promise.all([codeOf(pool.run(taskOf('exit'))), does(pool, 'sleep-300')]);
    expect(lost).toBe('worker-lost');
    expect(neighbour).toBe('done sleep-300');
  });
});

describe('time limit and cancel', () => {
  it.each(['polite', 'deaf'])('a %s worker over its time limit ends by name', async (word) => {
    const pool = poolOf();
    expect(await codeOf(pool.run(taskOf(word), { timeLimit: 200 }))).toBe('time-limit');
    expect(await does(pool, 'next')).toBe('done next');
  });

  it.each(['polite', 'deaf'])('a %s worker is cancelled by a signal', async (word) => {
    const pool = poolOf();
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 100);
    expect(await codeOf(pool.run(taskOf(word), { signal: stop.signal }))).toBe('cancelled');
    expect(await does(pool, 'next')).toBe('done next');
  });

  it('a waiting task is cancelled without a worker', async () => {
    const pool = poolOf();
    const stop = new AbortController();
    const first = does(pool, 'sleep-300');
    const waiting = codeOf(pool.run(taskOf('never'), { signal: stop.signal }));
    stop.abort();
    expect(await waiting).toBe('cancelled');
    expect(await first).toBe('done sleep-300');
  });

  it('a task whose signal was given up before it began is not begun', async () => {
    expect(await codeOf(poolOf().run(taskOf('exit'), { signal: AbortSignal.abort() }))).toBe('cancelled');
  });
});

describe('queue', () => {
  it('one more than may wait is refused with 503 and Retry-After, at once', async () => {
    const pool = poolOf({ queue: 2 });
    const accepted = ['sleep-200', 'b', 'c'].map((word) => does(pool, word));
    const refusal = await pool.run(taskOf('d')).catch((error: unknown) => error);
    expect(refusal).toMatchObject({ status: 503, body: { code: 'queue-full', limit: 2 } });
    expect((refusal as { headers: Record<string, string> }).headers['Retry-After']).toMatch(/^\d+$/);
    expect(await Promise.all(accepted)).toEqual(['done sleep-200', 'done b', 'done c']);
  });

  it('closing refuses what waits and what comes, and tells what it ends so, which is no fault', async () => {
    const faults: unknown[] = [];
    const pool = poolOf({ onFault: (error) => faults.push(error) });
    const running = codeOf(pool.run(taskOf('sleep-5000')));
    const waiting = codeOf(pool.run(taskOf('b')));
    await pool.close();
    expect(await waiting).toBe('closing');
    expect(await codeOf(pool.run(taskOf('c')))).toBe('closing');
    expect(await running).toBe('closing');
    expect(faults).toEqual([]);
  });
});
