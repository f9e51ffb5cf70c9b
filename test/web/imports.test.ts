import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { circlesIn, readImports } from './read-imports.ts';

const root = join(import.meta.dirname, '../..');

/** Rooms of the page in their order: each imports itself and rooms above it only. */
const ROOMS = [
  'api',
  'ui',
  'charts',
  'model',
  'compute',
  'state',
  'sharing',
  'studies',
  'propose',
  'stage',
  'shelf',
  'bench',
  'lessons',
  'shell',
] as const;
const DOOR = ['web/app.ts', 'web/main.ts'];
/** Run by node when the page is built. */
const BUILD = ['web/vite.config.ts'];

/** Which rooms may use which package. */
const PACKAGES: Readonly<Record<string, readonly string[] | 'all'>> = {
  d3: ['charts', 'studies', 'bench', 'lessons'],
  'lit-html': 'all',
  'lit-html/directives/keyed.js': 'all',
  'lit-html/directives/live.js': 'all',
  'lit-html/directives/ref.js': 'all',
  '@preact/signals-core': 'all',
  'idb-keyval': ['state'],
};

const modules = readImports('web').filter(({ file }) => !BUILD.includes(file));
const roomOf = (file: string): string => /^web\/([^/]+)\//u.exec(file)?.[1] ?? '';
const orderOf = (file: string): number =>
  DOOR.includes(file) ? ROOMS.length : ROOMS.findIndex((room) => room === roomOf(file));

describe('the rooms of the page', () => {
  it('are all that there is, and each holds something', () => {
    expect(modules.length).toBeGreaterThan(100);
    expect(modules.filter(({ file }) => orderOf(file) < 0).map(({ file }) => file)).toEqual([]);
    for (const room of ROOMS)
      expect(
        modules.some(({ file }) => roomOf(file) === room),
        room,
      ).toBe(true);
  });

  it('lead only to rooms above them, and to files of the engine, never its index', () => {
    const strays = modules.flatMap(({ file, modules: targets }) =>
      targets
        .filter((name) => !existsSync(join(root, name)) || !allowed(file, name))
        .map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('take only the packages of the table', () => {
    const strays = modules.flatMap(({ file, packages }) =>
      packages
        .filter((name) => !(name === 'virtual:tokens.css' && file === 'web/main.ts') && !mayUse(file, name))
        .map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('hold no circle of files, types counted', () => {
    expect(circlesIn(new Map(modules.map(({ file, atOnce }) => [file, atOnce])))).toEqual([]);
  });

  it('write nothing inside a value that is derived', () => {
    const code = readFileSync(join(root, 'web/state/derived.ts'), 'utf8');
    expect(code.match(/\.value = /gu)).toBeNull();
    expect(code.match(/computed\(/gu)!.length).toBeGreaterThan(10);
  });
});

function allowed(file: string, name: string): boolean {
  if (name.startsWith('engine/')) return name !== 'engine/index.ts';
  return name.startsWith('web/') && orderOf(name) <= orderOf(file);
}

function mayUse(file: string, name: string): boolean {
  const rooms = PACKAGES[name];
  return rooms !== undefined && (rooms === 'all' || rooms.includes(roomOf(file)));
}
