import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

/**
 * Who may import whom, as a table. Reads the sources themselves, so that a folder that moved or a pattern that
 * matches nothing fails instead of passing.
 */
const root = join(import.meta.dirname, '../..');

/** Folder -> what its modules may import: folders or files of the project, and packages ("node:" stands for all). */
const FOLDERS: Readonly<
  Record<string, { readonly modules: readonly string[]; readonly packages: readonly string[] }>
> = {
  'engine/numerics': { modules: ['engine/numerics'], packages: ['ml-matrix', 'fft.js', 'd3-random'] },
  engine: {
    modules: ['engine'],
    packages: ['js-quantities', 'zod', 'ml-matrix', 'fft.js', 'd3-random', 'csv-parse/browser/esm/sync'],
  },
  server: {
    modules: ['server', 'engine/index.ts'],
    packages: [
      'node:',
      'cli-progress',
      'commander',
      'compression',
      'express',
      'express-rate-limit',
      'helmet',
      'pino',
      'pino-http',
      'piscina',
      'zod',
      'zod-openapi',
    ],
  },
  web: {
    modules: ['web', 'engine/index.ts'],
    packages: [
      'd3',
      'lit-html',
      'lit-html/directives/live.js',
      '@preact/signals-core',
      'idb-keyval',
      'virtual:tokens.css',
    ],
  },
};

/** Built by node and not part of the page. */
const BUILD_FILES: ReadonlySet<string> = new Set(['web/vite.config.ts', 'web/vite.static.config.ts']);

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
  'export',
  'pack',
  'propose',
  'index.ts',
];

/** Kinds of study; none knows another. */
const STUDIES = ['scale', 'shmoo', 'tolerance', 'temperature', 'rate', 'pattern', 'sensitivity'];

interface Module {
  readonly file: string;
  /** Project files, relative to the root. */
  readonly modules: readonly string[];
  readonly packages: readonly string[];
  /** Project files that remain when types are gone. */
  readonly atRun: readonly string[];
}

const sources = ['engine', 'server', 'web'].flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => readModule(`${folder}/${name.replaceAll('\\', '/')}`)),
);
const engine = sources.filter(({ file }) => file.startsWith('engine/'));

function readModule(file: string): Module {
  const text = readFileSync(join(root, file), 'utf8');
  const names = (source: string): string[] =>
    ts.preProcessFile(source, true, true).importedFiles.map((i) => i.fileName);
  const local = (list: readonly string[]): string[] =>
    list
      .filter((name) => name.startsWith('.'))
      .map((name) => relative(root, join(root, dirname(file), name)));
  const all = names(text);
  const untyped = text.replace(/^(?:import|export) type [^;]*? from '[^']*';$/gmu, '');
  return {
    file,
    modules: local(all),
    packages: all.filter((name) => !name.startsWith('.')),
    atRun: local(names(untyped)),
  };
}

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
    const strays = sources.flatMap(({ file, modules }) =>
      modules
        .filter((name) => name.endsWith('.ts') && !rulesFor(file).modules.some((place) => under(name, place)))
        .map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('take only the packages that the table allows', () => {
    const strays = sources
      .filter(({ file }) => !BUILD_FILES.has(file))
      .flatMap(({ file, packages }) =>
        packages
          .filter(
            (name) =>
              !rulesFor(file).packages.some((allowed) =>
                allowed === 'node:' ? name.startsWith(allowed) : name === allowed,
              ),
          )
          .map((name) => `${file} -> ${name}`),
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

  it('never come back to where they started once types are gone', () => {
    const graph = new Map(engine.map(({ file, atRun }) => [file, atRun]));
    const done = new Set<string>();
    const circles: string[] = [];
    const visit = (file: string, path: readonly string[]): void => {
      if (path.includes(file)) circles.push([...path.slice(path.indexOf(file)), file].join(' -> '));
      else if (!done.has(file)) {
        for (const next of graph.get(file) ?? []) visit(next, [...path, file]);
        done.add(file);
      }
    };
    for (const file of graph.keys()) visit(file, []);
    expect(circles).toEqual([]);
  });

  it('lead no study to another', () => {
    const kind = (file: string): string | undefined =>
      STUDIES.find(
        (name) => file === `engine/studies/${name}.ts` || file === `engine/studies/${name}/${name}.ts`,
      );
    const pairs = engine.flatMap(({ file, modules }) =>
      kind(file) === undefined
        ? []
        : modules.filter((name) => kind(name) !== undefined).map((name) => `${file} -> ${name}`),
    );
    expect(pairs).toEqual([]);
    expect(engine.filter(({ file }) => kind(file)).length).toBeGreaterThan(3);
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

  it('leave the index nothing but re-exports', () => {
    const code = readFileSync(join(root, 'engine/index.ts'), 'utf8').replace(/\/\*[\s\S]*?\*\//gu, '');
    expect(
      code
        .split('\n')
        .filter((line) => line !== '' && !/^export (?:\*|type \{|\{)[^;]* from '[^']+';$/u.test(line)),
    ).toEqual([]);
  });
});
