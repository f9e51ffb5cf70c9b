import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../engine/numerics/random.ts';
import { openSavedFiles } from '../../server/saved-files.ts';
import { ensureBuild } from '../server/ensure-build.ts';
import { askPort } from '../server/http-client.ts';
import { startServe } from '../server/serve-process.ts';
import { patience, tell } from './figures.ts';

const SAVER = fileURLToPath(new URL('./save-forever.mjs', import.meta.url));
const KILLS = 200;
/** ms; a slow machine kills fewer times and says how often. */
const PATIENCE = 60_000;

/** Start the saver, kill it after a while; the newest version that it said was whole, by name. */
function saveAndKill(folder: string, wait: number): Promise<Map<string, number>> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [SAVER, folder]);
    let text = '';
    let errors = '';
    child.stderr.on('data', (chunk: Buffer) => (errors += chunk.toString()));
    child.stdout.on('data', (chunk: Buffer) => {
      if (text === '') setTimeout(() => child.kill('SIGKILL'), wait);
      text += chunk.toString();
    });
    child.on('close', (status) => {
      if (status !== null) reject(new Error(`the saver ended by itself: ${errors}`));
      const said = [...text.matchAll(/^(\w+) (\d+)$/gm)].map(
        ([, name, version]) => [name, Number(version)] as const,
      );
      resolve(new Map(said));
    });
  });
}

const SAVES = 1000;

describe('S6', () => {
  it('two servers on one folder, 1,000 interleaved saves: each acknowledged version reads back as written', async () => {
    await ensureBuild();
    const folder = mkdtempSync(join(tmpdir(), 'strobewright-two-'));
    const start = () => startServe(['--data', folder, '--workers', '1', '--rate', '1000000']);
    const two = await Promise.all([start(), start()]);
    const written = new Map<string, string>();
    let sent = 0;
    const line = async (who: number): Promise<void> => {
      while (sent < SAVES) {
        const i = sent++;
        const name = `rig ${i % 15}`;
        const body = `time_ns,u_mV\n${i},${who}\n${'0,1\n'.repeat(i % 500)}`;
        const reply = await askPort(two[who].port, `/api/v1/captures/${encodeURIComponent(name)}`, {
          method: 'PUT',
          headers: { 'Content-Type': 'text/csv' },
          body,
        });
        expect(reply.status).toBeLessThan(300);
        const key = `${name}/versions/${(JSON.parse(reply.body) as { version: number }).version}`;
        expect(written.has(key), key).toBe(false);
        written.set(key, body);
      }
    };
    await Promise.all([0, 1, 0, 1].map(line));
    let differ = 0;
    for (const [key, body] of written) {
      for (const { port } of two) {
        const reply = await askPort(port, `/api/v1/captures/${encodeURI(key)}`);
        if (reply.status !== 200 || reply.body !== body) differ++;
      }
    }
    const ends = await Promise.all(two.map((server) => server.end('SIGTERM')));
    const left = readdirSync(folder, { recursive: true }).filter((file) =>
      /\.(part|claim)$/.test(String(file)),
    );
    rmSync(folder, { recursive: true, force: true });
    tell(
      'S6',
      'two servers on one folder: acknowledged saves, of which read back otherwise from either',
      `${written.size}, ${differ}`,
      '1,000, none',
    );
    expect([written.size, differ, left, ends]).toEqual([SAVES, 0, [], [0, 0]]);
  });

  it('200 kills during saves: every file is whole, nothing said to be saved is lost, leftovers are swept', async () => {
    await ensureBuild();
    const folder = mkdtempSync(join(tmpdir(), 'strobewright-kill-'));
    const random = randomStream(6);
    let leftovers = 0;
    let checked = 0;
    let kills = 0;
    for (const patient = patience(PATIENCE); kills < KILLS && patient(); kills++) {
      const said = await saveAndKill(folder, random() * 40);
      const halves = readdirSync(folder, { recursive: true }).filter((file) =>
        String(file).endsWith('.part'),
      );
      leftovers += halves.length;
      const saved = openSavedFiles({ folder, extension: 'json', names: 10, versions: 5, leftoverAge: 0 });
      for (const { name, version } of await saved.list()) {
        expect(version).toBeGreaterThanOrEqual(said.get(name) ?? 0);
        for (let old = version; old > Math.max(0, version - 4); old--) {
          const { content } = await saved.read(name, old);
          const { text, sum } = JSON.parse(content.toString()) as { text: string; sum: string };
          expect(createHash('sha256').update(text).digest('hex')).toBe(sum);
          checked++;
        }
      }
      for (const file of readdirSync(folder, { recursive: true }))
        expect(String(file)).not.toMatch(/\.part$/);
    }
    rmSync(folder, { recursive: true, force: true });
    tell(
      'S6',
      `${kills} kills during saves`,
      `${checked} files read whole, ${leftovers} leftovers swept`,
      'every file whole',
    );
    // A test that never caught a save half-way would show nothing.
    expect(leftovers).toBeGreaterThan(0);
  });
});
