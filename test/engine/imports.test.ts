import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { circlesIn, readImports } from '../web/read-imports.ts';

/**
 * Who may import whom in the engine, as a table; server and page have lists of their own. Reads the sources themselves,
 * so that a folder that moved or a pattern that matches nothing fails instead of passing.
 */
const root = join(import.meta.dirname, '../..');

/** Folder -> what its modules may import: folders or files of the project, and packages. */
const FOLDERS: Readonly<
  Record<string, { readonly modules: readonly string[]; readonly packages: readonly string[] }>
> = {
  'engine/numerics': { modules: ['engine/numerics'], packages: ['ml-matrix', 'fft.js', 'd3-random'] },
  engine: {
    modules: ['engine'],
    packages: ['js-quantities', 'zod', 'ml-matrix', 'fft.js', 'd3-random', 'csv-parse/browser/esm/sync'],
  },
};

/** The engine's folders in the order in which the data flows: each imports itself and folders above it. */
const STAGES = [
  'base',
  'numerics',
  'design',
  'core',
  'mat',
  'drive',
  'check',
  'network',
  'solver',
  'sense-amplifier',
  'simulate',
  'estimates',
  'warnings',
  'strobe',
  'history',
  'channel',
  'advice',
  'studies',
  'capture',
  'fitting',
  'report',
  'stages',
  'export',
  'pack',
  'predict',
  'propose',
  'index.ts',
];

/** Kinds of study; none knows another. */
const STUDIES = ['scale', 'shmoo', 'tolerance', 'temperature', 'rate', 'pattern', 'sensitivity'];

const sources = ['engine', 'server', 'web'].flatMap(readImports);
const engine = sources.filter(({ file }) => file.startsWith('engine/'));

const under = (file: string, place: string): boolean => file === place || file.startsWith(`${place}/`);

function rulesFor(file: string): (typeof FOLDERS)[string] {
  const folder = Object.keys(FOLDERS).find((name) => under(file, name));
  if (folder === undefined) throw new Error(`${file} lies in no folder of the table.`);
  return FOLDERS[folder];
}

describe('imports', () => {
  it('are read from more than 0 modules of every folder, and lead to files that exist', () => {
    for (const folder of Object.keys(FOLDERS))
      expect(sources.filter(({ file }) => under(file, folder)).length, folder).toBeGreaterThan(0);
    expect(sources.length).toBeGreaterThan(50);
    expect(sources.reduce((sum, module) => sum + module.modules.length, 0)).toBeGreaterThan(100);
    const files = new Set(sources.map(({ file }) => file));
    const missing = engine.flatMap(({ file, modules }) =>
      modules.filter((name) => !files.has(name)).map((name) => `${file} -> ${name}`),
    );
    expect(missing).toEqual([]);
  });

  it('stay inside the project folders that the table allows', () => {
    const strays = engine.flatMap(({ file, modules }) =>
      modules
        .filter((name) => name.endsWith('.ts') && !rulesFor(file).modules.some((place) => under(name, place)))
        .map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('take only the packages that the table allows', () => {
    const strays = engine.flatMap(({ file, packages }) =>
      packages.filter((name) => !rulesFor(file).packages.includes(name)).map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('lead each folder of the engine only to itself and to folders above it', () => {
    const stageOf = (file: string): number => STAGES.indexOf(file.split('/')[1]);
    expect(
      engine.map(({ file }) => file).filter((file) => stageOf(file) < 0),
      'in no folder of the list',
    ).toEqual([]);
    const backwards = engine.flatMap(({ file, modules }) =>
      modules.filter((name) => stageOf(name) > stageOf(file)).map((name) => `${file} -> ${name}`),
    );
    expect(backwards).toEqual([]);
    for (const stage of STAGES)
      expect(
        engine.some(({ file }) => under(file, `engine/${stage}`)),
        `${stage} has a module`,
      ).toBe(true);
  });

  it('never come back to where they started, types counted', () => {
    expect(circlesIn(new Map(engine.map(({ file, atOnce }) => [file, atOnce])))).toEqual([]);
  });

  it('lead no study to another', () => {
    const kind = (file: string): string | undefined =>
      STUDIES.find((name) => file.startsWith(`engine/studies/${name}/`));
    const pairs = engine.flatMap(({ file, modules }) =>
      kind(file) === undefined
        ? []
        : modules
            .filter((name) => ![undefined, kind(file)].includes(kind(name)))
            .map((name) => `${file} -> ${name}`),
    );
    expect(pairs).toEqual([]);
    for (const name of STUDIES)
      expect(
        engine.some(({ file }) => kind(file) === name),
        name,
      ).toBe(true);
  });

  it('leave the engine without clock, global random source, timers, files, network and page', () => {
    const banned =
      /\b(?:Date\.now|new Date|performance\.|Math\.random|setTimeout|setInterval|fetch\(|process\.|globalThis\.(?!Math\b))/u;
    const impure = engine.flatMap(({ file }) => {
      const code = readFileSync(join(root, file), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gmu, '');
      const hit = banned.exec(code)?.[0];
      return hit === undefined ? [] : [`${file}: ${hit}`];
    });
    expect(impure).toEqual([]);
  });

  it('take each name from the file that defines it: the index is for users of the package alone', () => {
    const through = sources.filter(({ modules }) => modules.includes('engine/index.ts'));
    expect(through.map(({ file }) => file)).toEqual([]);
    const passedOn = engine
      .filter(({ file }) => file !== 'engine/index.ts')
      .filter(({ file }) => /^export [^;]*? from '/mu.test(readFileSync(join(root, file), 'utf8')));
    expect(passedOn.map(({ file }) => file)).toEqual([]);
  });
});
