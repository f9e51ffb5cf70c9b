import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer, connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import { beforeAll, describe, expect, it } from 'vitest';
import { CLI, ensureBuild } from './ensure-build.ts';
import { askPort } from './http-client.ts';
import { runCli } from './run-cli.ts';
import { startServe } from './serve-process.ts';

beforeAll(ensureBuild);

describe('serve', () => {
  it('says where the page is, on loopback and without a warning, and ends with 0 on SIGTERM', async () => {
    const serving = await startServe();
    expect(serving.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    expect((await askPort(serving.port, '/healthz')).status).toBe(200);
    expect(await serving.end('SIGTERM')).toBe(0);
    expect(serving.stderr()).toBe('');
  });

  it('ends with 0 on Ctrl-C', async () => {
    expect(await (await startServe()).end('SIGINT')).toBe(0);
  });

  it('warns plainly when it is open to the network', async () => {
    const serving = await startServe(['--host', '0.0.0.0']);
    expect(serving.stderr()).toMatch(/^Warning: on 0\.0\.0\.0 everyone on the network can reach this server/);
    expect(await serving.end()).toBe(0);
  });

  it('says in one sentence that a port is in use', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const { port } = other.address() as AddressInfo;
    const { status, stdout, stderr } = await runCli(['serve', '--port', String(port)]);
    other.close();
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      `Port ${port} on 127.0.0.1 is in use by another program: give another with --port or PORT.\n`,
    );
  });

  it('takes the port from PORT', async () => {
    const free = createServer().listen(0, '127.0.0.1');
    await once(free, 'listening');
    const { port } = free.address() as AddressInfo;
    await new Promise((resolve) => free.close(resolve));
    const serving = await startServe([], { PORT: String(port) });
    expect(serving.port).toBe(port);
    await serving.end();
  });

  it('never aborts on SIGTERM, however early it comes: before it listens, as its threads load, or later', async () => {
    const ends = [40, 120, 200, 300, 450, 700, 1000].map(async (delay) => {
      const child = spawn(process.execPath, [CLI, 'serve', '--port', '0'], {
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      let words = '';
      child.stderr.setEncoding('utf8').on('data', (text: string) => (words += text));
      setTimeout(() => child.kill('SIGTERM'), delay);
      const [code, signal] = (await once(child, 'close')) as [number | null, string | null];
      return { code, signal, words };
    });
    for (const { code, signal, words } of await Promise.all(ends)) {
      // Until the command has begun nothing catches the signal, and nothing is lost by it.
      expect([`0 null`, 'null SIGTERM']).toContain(`${code} ${signal}`);
      expect(words).toBe('');
    }
  });

  it('ends with 0 on SIGTERM while it calculates and a client holds its connection open', async () => {
    const serving = await startServe();
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
