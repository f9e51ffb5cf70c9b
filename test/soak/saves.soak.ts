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

describe('S6', () => {
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
        /\.json\.\d+$/.test(String(file)),
      );
      leftovers += halves.length;
      const saved = openSavedFiles({ folder, extension: 'json', names: 10, versions: 5 });
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
        expect(String(file)).not.toMatch(/\.json\.\d+$/);
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
