import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import ts from 'typescript';

const root = join(import.meta.dirname, '../..');

export interface Module {
  readonly file: string;
  /** Project files, relative to the root. */
  readonly modules: readonly string[];
  readonly packages: readonly string[];
  /** The same without what is fetched later. */
  readonly atOnce: readonly string[];
}

/** Every source of a folder with what it imports, read from the files themselves. */
export function readImports(folder: string): readonly Module[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => readModule(`${folder}/${name.replaceAll('\\', '/')}`));
}

function readModule(file: string): Module {
  const text = readFileSync(join(root, file), 'utf8');
  const names = (source: string): string[] =>
    ts.preProcessFile(source, true, true).importedFiles.map((i) => i.fileName);
  const local = (list: readonly string[]): string[] =>
    list
      .filter((name) => name.startsWith('.') && name.endsWith('.ts'))
      .map((name) => relative(root, join(root, dirname(file), name)));
  const all = names(text);
  const atOnce = text.replace(/\bimport\('[^']*'\)/gu, 'undefined');
  return {
    file,
    modules: local(all),
    packages: all.filter((name) => !name.startsWith('.')),
    atOnce: local(names(atOnce)),
  };
}

/** Ways that lead back to where they started. */
export function circlesIn(graph: ReadonlyMap<string, readonly string[]>): readonly string[] {
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
  return circles;
}
