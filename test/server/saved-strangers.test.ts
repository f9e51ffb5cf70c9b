import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SavedOptions } from '../../server/saved-files.ts';
import { openSavedFiles } from '../../server/saved-files.ts';
import { constantRunner, startTestServer } from './http-client.ts';

let base: string;
let folder: string;
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'strobewright-strangers-'));
  folder = join(base, 'captures');
  mkdirSync(folder);
});
afterEach(() => rmSync(base, { recursive: true, force: true }));

const open = (options: Partial<SavedOptions> = {}) =>
  openSavedFiles({ folder, extension: 'csv', names: 5, versions: 3, ...options });
const bytes = (text: string): Buffer => Buffer.from(text);
const old = (path: string): void => utimesSync(path, new Date(0), new Date(0));

/** A file below the folder, made long ago, with the folders it needs. */
function put(path: string, text = '1'): string {
  const whole = join(folder, path);
  mkdirSync(join(whole, '..'), { recursive: true });
  writeFileSync(whole, text);
  old(whole);
  old(join(whole, '..'));
  return whole;
}

const OURS = 'rig-0123456789abcdef';

describe('what is not ours', () => {
  it('stays where it is when saved work is opened, listed, saved beside and removed, and is told of', async () => {
    const theirs = [
      '2024-rig/a.csv',
      '2024-rig/000001.csv',
      'notes.txt',
      'Rig-0123456789ABCDEF/a.csv',
      `${OURS}/notes.txt`,
      `${OURS}/000001.csv.bak`,
      `${OURS}/000001.csv.123456`,
      `${OURS}/sub/000001.csv`,
      `${OURS}x/a.csv`,
    ].map((path) => put(path));
    let told: readonly string[] = [];
    const saved = open({ onStrangers: (names) => (told = names) });
    await saved.save('mine', bytes('m'));
    expect((await saved.list()).map(({ name }) => name)).toEqual(['mine']);
    await saved.remove('mine');
    for (const path of theirs) expect(existsSync(path), path).toBe(true);
    expect(told).toContain('2024-rig');
    expect(told).toContain(`${OURS}/notes.txt`);
  });

  it('is never reached through a link: neither folders, nor files, nor what they lead to', async () => {
    const outside = join(base, 'outside');
    mkdirSync(outside);
    for (const name of ['about.json', '000001.csv', '000002.csv.0123456789abcdef.part'])
      writeFileSync(join(outside, name), 'theirs');
    symlinkSync(outside, join(folder, OURS));
    symlinkSync(outside, join(folder, 'elsewhere'));
    const saved = open({ leftoverAge: 0 });
    await saved.save('mine', bytes('m'));
    const place = readdirSync(folder).find((name) => name.startsWith('mine-'));
    symlinkSync(join(outside, '000001.csv'), join(folder, String(place), '000009.csv'));
    expect((await saved.list()).map(({ name, version }) => [name, version])).toEqual([['mine', 1]]);
    await saved.remove('mine');
    expect(readdirSync(outside).sort()).toEqual(
      ['000001.csv', '000002.csv.0123456789abcdef.part', 'about.json'].sort(),
    );
    expect(readFileSync(join(outside, '000001.csv'), 'utf8')).toBe('theirs');
    expect(existsSync(join(folder, String(place), '000009.csv'))).toBe(true);
  });

  it('in a sub-folder of ours outlives the removal of the name', async () => {
    const saved = open();
    await saved.save('mine', bytes('m'));
    const [place] = readdirSync(folder);
    writeFileSync(join(folder, place, 'notes.txt'), 'theirs');
    await saved.remove('mine');
    expect(readdirSync(join(folder, place))).toEqual(['notes.txt']);
    expect(await saved.list()).toEqual([]);
    expect(await saved.save('mine', bytes('again'))).toEqual({ version: 1 });
  });

  it('does not stand in the way of the limit of names', async () => {
    for (let i = 0; i < 9; i++) put(`theirs ${i}/a.csv`);
    const saved = open();
    for (let i = 0; i < 5; i++) await saved.save(`mine ${i}`, bytes('m'));
    await expect(saved.save('one more', bytes('m'))).rejects.toThrow('At most 5 names');
  });

  it('is left alone by a server too', async () => {
    const theirs = [put('2024-rig/a.csv'), join(base, 'designs/2024-rig/a.json')];
    mkdirSync(join(base, 'designs/2024-rig'), { recursive: true });
    writeFileSync(theirs[1], '{}');
    const server = await startTestServer({ runner: constantRunner('{}'), dataFolder: base });
    for (const path of ['captures', 'designs/saved'])
      expect(JSON.parse((await server.ask(`/api/v1/${path}`)).body)).toEqual([]);
    await server.close();
    for (const path of theirs) expect(existsSync(path)).toBe(true);
  });
});

describe('leftovers of a server that was killed', () => {
  const half = '000002.csv.0123456789abcdef.part';
  it('are swept once no writer can live that long, and what is whole is kept', async () => {
    await open().save('whole', bytes('1'));
    const [place] = readdirSync(folder);
    put(`${place}/${half}`, 'half');
    writeFileSync(join(folder, place, half.replace('2', '3')), 'being written by another server');
    expect((await open().list()).map(({ name }) => name)).toEqual(['whole']);
    expect(readdirSync(join(folder, place)).sort()).toEqual(
      ['000001.csv', half.replace('2', '3'), 'about.json'].sort(),
    );
  });

  it('sub-folders that never got a version go, but not while one may be on its way', async () => {
    const saved = open();
    await saved.save('never', bytes('1'));
    const [place] = readdirSync(folder);
    rmSync(join(folder, place, '000001.csv'));
    await open().list();
    expect(readdirSync(folder)).toEqual([place]);
    old(join(folder, place));
    await open().list();
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe('damage', () => {
  it.each([
    ['no JSON', '{"name":'],
    ['nothing', ''],
    ['the name of something else', '{"name":"another"}'],
  ])(
    'of one about.json (%s) hides nothing else, and the work can be read, saved on and removed',
    async (_what, text) => {
      await open().save('good', bytes('g'));
      await open().save('bad', bytes('b'));
      const place = String(readdirSync(folder).find((name) => name.startsWith('bad-')));
      writeFileSync(join(folder, place, 'about.json'), text);
      const list = await open().list();
      expect(list.map(({ name }) => name)).toEqual([place, 'good']);
      expect(list[0].damaged).toContain('about.json');
      expect(list[1]).not.toHaveProperty('damaged');
      expect((await open().read(place)).content.toString()).toBe('b');
      expect((await open().read('bad')).content.toString()).toBe('b');
      expect(await open().save(place, bytes('c'))).toEqual({ version: 2 });
      // Whoever knows the name mends it by saving.
      expect(await open().save('bad', bytes('d'))).toEqual({ version: 3 });
      expect((await open().list()).map(({ name }) => name)).toEqual(['bad', 'good']);
      await open().remove('bad');
      expect((await open().list()).map(({ name }) => name)).toEqual(['good']);
    },
  );
});
