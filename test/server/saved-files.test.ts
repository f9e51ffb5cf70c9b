import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SavedOptions } from '../../server/saved-files.ts';
import { openSavedFiles } from '../../server/saved-files.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'strobewright-saved-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const open = (options: Partial<SavedOptions> = {}) =>
  openSavedFiles({ folder, extension: 'json', names: 5, versions: 3, ...options });
const bytes = (text: string): Buffer => Buffer.from(text);
const codeOf = (promise: Promise<unknown>): Promise<unknown> =>
  promise.then(
    () => 'done',
    (error: { body?: { code: string } }) => error.body?.code ?? error,
  );

describe('saved work', () => {
  it('is read back byte for byte, newest first, older versions by number', async () => {
    const saved = open();
    expect(await saved.save('Tide recorder', bytes('{"a":1}'))).toEqual({ version: 1 });
    expect(await saved.save('Tide recorder', bytes('{"a":2}'))).toEqual({ version: 2 });
    expect((await saved.read('Tide recorder')).content.toString()).toBe('{"a":2}');
    expect((await saved.read('Tide recorder', 1)).content.toString()).toBe('{"a":1}');
    expect(await codeOf(saved.read('Tide recorder', 3))).toBe('not-found');
    expect(await open().list()).toEqual([
      {
        name: 'Tide recorder',
        version: 2,
        versions: [1, 2],
        saved: expect.stringMatching(/^\d{4}-.*Z$/),
        bytes: 7,
      },
    ]);
  });

  it('keeps the last versions only, and their numbers go on', async () => {
    const saved = open();
    for (let i = 1; i <= 5; i++) await saved.save('a', bytes(String(i)));
    expect((await saved.read('a')).version).toBe(5);
    expect(await codeOf(saved.read('a', 2))).toBe('not-found');
    expect((await saved.read('a', 3)).content.toString()).toBe('3');
  });

  it('may be saved on top of a known version only', async () => {
    const saved = open();
    expect(await codeOf(saved.save('a', bytes('x'), 0))).toBe('done');
    expect(await codeOf(saved.save('a', bytes('x'), 0))).toBe('other-version');
    expect(await codeOf(saved.save('a', bytes('y'), 1))).toBe('done');
    expect(await codeOf(saved.save('a', bytes('z'), 1))).toBe('other-version');
  });

  it('of 50 clients under one name is 50 versions, none lost', async () => {
    const saved = open({ versions: 100 });
    const versions = await Promise.all(
      Array.from({ length: 50 }, (_, i) => saved.save('one', bytes(`client ${i}`))),
    );
    expect(versions.map(({ version }) => version).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 50 }, (_, i) => i + 1),
    );
    const texts = await Promise.all(versions.map(({ version }) => saved.read('one', version)));
    expect(new Set(texts.map(({ content }) => content.toString())).size).toBe(50);
  });

  it('is removed when asked', async () => {
    const saved = open();
    await saved.save('a', bytes('1'));
    await saved.remove('a');
    expect(await saved.list()).toEqual([]);
    expect(await codeOf(saved.remove('a'))).toBe('not-found');
  });

  it('is limited in names: the limit is reached, one more is refused', async () => {
    const saved = open();
    for (let i = 0; i < 5; i++) expect(await codeOf(saved.save(`name ${i}`, bytes('1')))).toBe('done');
    expect(await codeOf(saved.save('one more', bytes('1')))).toBe('too-many-saved');
    expect(await codeOf(saved.save('name 0', bytes('2')))).toBe('done');
  });
});

describe('names', () => {
  it.each([
    '../../etc/passwd',
    '..',
    '.',
    '/',
    'C:\\x',
    'a/b',
    'con',
    'about.json',
    '__proto__',
    'Ærøskøbing',
    '🔔',
    '%2e%2e%2f',
    'x'.repeat(100),
    ' ',
    '-rf',
    '~',
    '$(id)',
    'a\u202Eb',
  ])('%j never touches a path outside its own sub-folder', async (name) => {
    const saved = open();
    const code = await codeOf(saved.save(name, bytes('kept')));
    if (name.trim() === '') {
      expect(code).toBe('bad-name');
      return;
    }
    expect(code).toBe('done');
    expect((await open().read(name)).content.toString()).toBe('kept');
    expect((await open().list())[0].name).toBe(name);
    const places = readdirSync(folder);
    expect(places).toHaveLength(1);
    expect(places[0]).toMatch(/^[a-z0-9-]*-[0-9a-f]{16}$/);
    expect(readdirSync(join(folder, places[0])).sort()).toEqual(['000001.json', 'about.json']);
  });

  it.each(['', 'a\u0000b', 'a\nb', 'x'.repeat(101)])('%j is refused', async (name) => {
    expect(await codeOf(open().save(name, bytes('x')))).toBe('bad-name');
    expect(await codeOf(open().read(name))).toBe('bad-name');
  });

  it('that look alike to a path are told apart', async () => {
    const saved = open();
    await saved.save('A b', bytes('1'));
    await saved.save('a-b', bytes('2'));
    expect((await saved.read('A b')).content.toString()).toBe('1');
    expect((await saved.read('a-b')).content.toString()).toBe('2');
  });
});
