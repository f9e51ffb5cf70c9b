import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { needsJsonSchema } from '../../engine/propose/needs.ts';
import { SMALL_NEEDS } from '../engine/propose/small-needs.ts';
import { searchPrice } from '../../engine/propose/search-price.ts';
import { summariseProposals } from '../../engine/propose/answer.ts';
import type { JobResult } from '../../engine/propose/jobs.ts';
import { nextJobs } from '../../engine/propose/plan.ts';
import { proposalsJson } from '../../engine/propose/proposals-json.ts';
import { readProposalNeeds } from '../../engine/propose/read-proposal-needs.ts';
import type { JobView } from '../../server/job.ts';
import { callCli } from './call-cli.ts';
import { ensureBuild, ROOT } from './ensure-build.ts';
import type { RunControl, Runner, Task } from '../../server/task.ts';
import { madeUp } from '../engine/propose/made-up-results.ts';
import { startTestServer, type TestServer } from './http-client.ts';
import { runCli } from './run-cli.ts';

let folder: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-propose-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('propose on the command line', () => {
  it('stopped with Ctrl-C tells the best until then, marked as stopped, and exits with 130', async () => {
    const words = ['propose', '-', '--workers', '2', '--format', 'json', '--output', join(folder, 'a.json')];
    const ended = await runCli([...words, '--save', join(folder, 'designs')], {
      input: JSON.stringify(SMALL_NEEDS),
      started: (child) => {
        const watch = (chunk: Buffer): void => {
          if (!chunk.toString().includes('nearest')) return;
          child.stderr!.off('data', watch);
          child.kill('SIGINT');
        };
        child.stderr!.on('data', watch);
      },
    });
    expect(ended.status).toBe(130);
    expect(ended.stderr).toMatch(
      /About \d+\.\d % of the search, about \d+ s left; nearest, not shown yet: /u,
    );
    expect(ended.stderr).toContain('Stopped: ');
    const answer = JSON.parse(readFileSync(join(folder, 'a.json'), 'utf8')) as Record<string, unknown>;
    expect(answer).toMatchObject({ met: false, complete: false, proposals: [] });
    expect(answer['sentence']).toMatch(/^Not shown yet\. .*The search has not come to its end\.$/u);
    // What was only promised is told as nearest, as number 0.
    const saved = readdirSync(join(folder, 'designs'));
    expect(saved.length).toBe(1);
    expect(saved[0]).toMatch(/^0-shared-.*-2x2\.json$/u);
    const design = JSON.parse(readFileSync(join(folder, 'designs', saved[0]!), 'utf8')) as unknown;
    expect(answer['nearest']).toMatchObject({ design });
  });

  it('refuses needs that make no sense in one sentence, and exits with 2', async () => {
    const refused = await callCli(['propose', '-'], {
      input: JSON.stringify({ ...SMALL_NEEDS, keep: { drive: { x: { ris: '40 ns' } } } }),
    });
    expect(refused).toEqual({
      status: 2,
      stdout: '',
      stderr: 'keep: "ris" is not a field of drive.x; did you mean "rise"?\n',
    });
    const workers = await callCli([
      'propose',
      join(ROOT, 'fixtures/needs/small-store-64x4.json'),
      '--workers',
      '0',
    ]);
    expect(workers).toMatchObject({ status: 2, stdout: '' });
    expect(workers.stderr).toContain('--workers must be a whole number from 1 to 64');
  });

  it('has the JSON Schema of its file', async () => {
    const { stdout } = await callCli(['schema', 'needs']);
    expect(JSON.parse(stdout)).toEqual(JSON.parse(JSON.stringify(needsJsonSchema())));
  });
});

describe('propose over HTTP', () => {
  const reserveOf = ({ winding }: { readonly winding: string }): number =>
    winding === 'shared-one-run' ? 1.05 : 1.1;
  /** Made-up answers at once; those from `hangsAt` on wait until they are cancelled. */
  const runner = (hangsAt = Infinity, asked: RunControl[] = []): Runner => ({
    threads: 2,
    run: async (task: Task, control = {}) => {
      asked.push(control);
      if (task.kind !== 'proposal-part') throw new Error('Another task was not expected.');
      if (asked.length > hangsAt)
        await new Promise((_, reject) =>
          control.signal!.addEventListener('abort', () => reject(new Error('cancelled'))),
        );
      return { body: new TextEncoder().encode(JSON.stringify(madeUp(task.job, reserveOf))) };
    },
    close: async () => {},
  });
  const viewOf = async (server: TestServer, path: string): Promise<JobView> =>
    JSON.parse((await server.ask(path)).body) as JobView;

  it('is a job that is followed to its end, whose parts give others their turn', async () => {
    const asked: RunControl[] = [];
    const server = await startTestServer({ runner: runner(Infinity, asked) });
    const accepted = await server.postJson('/api/v1/proposals', SMALL_NEEDS);
    expect(accepted.status).toBe(202);
    const path = String(accepted.headers['location']);
    await expect.poll(async () => (await viewOf(server, path)).state).toBe('done');
    expect(await viewOf(server, path)).toMatchObject({ kind: 'proposals', share: 1, hasResult: true });
    const needs = readProposalNeeds(SMALL_NEEDS);
    const results: JobResult[] = [];
    for (let jobs = nextJobs(needs, results); jobs.length > 0; jobs = nextJobs(needs, results))
      results.push(...jobs.map((job) => madeUp(job, reserveOf)));
    expect((await server.ask(`${path}/result`)).body).toBe(
      proposalsJson(needs, summariseProposals(needs, results, true)),
    );
    expect(asked.length).toBe(results.length);
    expect(asked.every(({ long, client }) => long === false && client !== undefined)).toBe(true);
    await server.close();
  });

  it('can be read while it goes on, and keeps the best until then when it is cancelled', async () => {
    const server = await startTestServer({ runner: runner(3) });
    const path = String((await server.postJson('/api/v1/proposals', SMALL_NEEDS)).headers['location']);
    const result = async (): Promise<unknown> => JSON.parse((await server.ask(`${path}/result`)).body);
    await expect.poll(async () => (await viewOf(server, path)).hasResult).toBe(true);
    await expect.poll(result).toMatchObject({ met: true, complete: false });
    expect((await viewOf(server, path)).state).toBe('running');
    expect((await server.ask(path, { method: 'DELETE' })).status).toBe(200);
    await expect.poll(async () => (await viewOf(server, path)).state).toBe('cancelled');
    expect(await result()).toMatchObject({ met: true, complete: false, proposals: [{ reserve: 1.1 }] });
    await server.close();
  });

  it('refuses what the command line refuses, at the field of the needs, and what is too expensive', async () => {
    const { work } = searchPrice(readProposalNeeds(SMALL_NEEDS));
    const server = await startTestServer({ runner: runner(), limits: { jobWork: work - 1 } });
    const refusal = async (change: object): Promise<unknown> => {
      const { status, body } = await server.postJson('/api/v1/proposals', { ...SMALL_NEEDS, ...change });
      expect(status).toBe(422);
      return JSON.parse(body);
    };
    expect(await refusal({ keep: { drive: { x: { ris: '40 ns' } } } })).toMatchObject({
      code: 'unknown-field',
      field: '/keep/drive/x/ris',
    });
    expect(await refusal({ words: '4' })).toMatchObject({ field: '/words' });
    expect(await refusal({})).toMatchObject({ code: 'too-expensive', limit: work - 1 });
    const fine = { keep: { numerics: { step: '5 ps' } } };
    expect(await refusal(fine)).toMatchObject({ code: 'too-many-samples', field: '/cycle' });
    await server.close();
  });
});
