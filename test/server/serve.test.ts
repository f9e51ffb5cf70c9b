import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { serve } from '../../server/serve.ts';
import { callCli } from './call-cli.ts';
import { CLI, ensureBuild } from './ensure-build.ts';
import { askPort } from './http-client.ts';
import { startServe } from './serve-process.ts';

beforeAll(ensureBuild);

/** With few threads: each takes a while to load. */
const SERVE = ['serve', '--workers', '1'];

describe('serve', () => {
  it('says where the page is, on loopback and without a warning, and ends with 0 on SIGTERM', async () => {
    const serving = await startServe(['--workers', '1']);
    expect(serving.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    expect((await askPort(serving.port, '/healthz')).status).toBe(200);
    expect(await serving.end('SIGTERM')).toBe(0);
    expect(serving.stderr()).toBe('');
  });

  it('ends with 0 on Ctrl-C', async () => {
    expect(await (await startServe(['--workers', '1'])).end('SIGINT')).toBe(0);
  });

  it('warns plainly when it is open to the network', async () => {
    const { status, stdout, stderr } = await callCli([...SERVE, '--port', '0', '--host', '0.0.0.0']);
    expect([status, stdout]).toEqual([
      0,
      expect.stringMatching(/^Strobewright is at http:\/\/0\.0\.0\.0:\d+\n$/),
    ]);
    expect(stderr).toMatch(/^Warning: on 0\.0\.0\.0 everyone on the network can reach this server/);
  });

  it('says in one sentence that a port is in use', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const { port } = other.address() as AddressInfo;
    const { status, stdout, stderr } = await callCli([...SERVE, '--port', String(port)]);
    other.close();
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      `Port ${port} on 127.0.0.1 is in use by another program: give another with --port or PORT.\n`,
    );
  });

  it('says in its log what of the folder it did not make and leaves alone', async () => {
    const dataFolder = mkdtempSync(join(tmpdir(), 'strobewright-serve-'));
    mkdirSync(join(dataFolder, 'captures/2024-rig'), { recursive: true });
    writeFileSync(join(dataFolder, 'captures/2024-rig/a.csv'), '1');
    let words = '';
    const log = new Writable({
      write: (chunk: Buffer, _encoding, done) => {
        words += chunk.toString();
        done();
      },
    });
    const { address, close } = await serve({ host: '127.0.0.1', port: 0, dataFolder, workers: 1, log });
    expect(await (await fetch(`${address}/api/v1/captures`)).json()).toEqual([]);
    await close();
    expect(words).toContain(
      'The folder of saved captures holds 1 entry that Strobewright did not make: left alone.',
    );
    expect(readFileSync(join(dataFolder, 'captures/2024-rig/a.csv'), 'utf8')).toBe('1');
    rmSync(dataFolder, { recursive: true });
  });

  it('takes the port from PORT', async () => {
    const free = createServer().listen(0, '127.0.0.1');
    await once(free, 'listening');
    const { port } = free.address() as AddressInfo;
    await new Promise((resolve) => free.close(resolve));
    vi.stubEnv('PORT', String(port));
    const { stdout } = await callCli(SERVE);
    vi.unstubAllEnvs();
    expect(stdout).toBe(`Strobewright is at http://127.0.0.1:${port}\n`);
  });

  it.each([
    ['before anything listens for the signal, which ends it', 'send();', 'null SIGTERM'],
    [
      'as soon as it listens for the signal',
      "process.on('newListener', (name) => { if (name === 'SIGTERM') setImmediate(send); });",
      '0 null',
    ],
    ['as its first thread is started', "process.on('worker', send);", '0 null'],
    ['as a thread loads', "process.on('worker', (thread) => thread.once('online', send));", '0 null'],
    [
      'as its last thread is ready',
      "process.on('worker', (thread) => thread.once('message', () => { if (++ready === 3) send(); }));",
      '0 null',
    ],
  ])('never aborts on SIGTERM, however early it comes: %s', async (_when, send, expected) => {
    const text = `import { isMainThread } from 'node:worker_threads';
      let sent = false;
      let ready = 0;
      const send = () => { if (!sent) sent = process.kill(process.pid, 'SIGTERM'); };
      if (isMainThread) { ${send} }`;
    const hook = JSON.stringify(`data:text/javascript,${encodeURIComponent(text)}`);
    const child = spawn(process.execPath, [CLI, ...SERVE, '--port', '0'], {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, NODE_OPTIONS: `--import ${hook}` },
    });
    let words = '';
    child.stderr.setEncoding('utf8').on('data', (chunk: string) => (words += chunk));
    const [code, signal] = (await once(child, 'close')) as [number | null, string | null];
    expect([`${code} ${signal}`, words]).toEqual([expected, '']);
  });

  it('ends with 0 on SIGTERM while it calculates and a client holds its connection open', async () => {
    const serving = await startServe(['--workers', '1']);
    const idle = connect(serving.port, '127.0.0.1');
    idle.on('error', () => {});
    const work = Array.from({ length: 8 }, () =>
      askPort(serving.port, '/api/v1/windows', {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: '{"mat":{"rows":32,"columns":32}}',
      }).then(
        ({ status }) => status,
        () => 'cut off',
      ),
    );
    await askPort(serving.port, '/healthz');
    expect(await serving.end('SIGTERM')).toBe(0);
    for (const outcome of await Promise.all(work)) expect([200, 503, 409, 'cut off']).toContain(outcome);
    idle.destroy();
  }, 30_000);
});
