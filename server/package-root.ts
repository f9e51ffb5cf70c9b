import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder that holds package.json, from the sources as well as from dist/. */
const PACKAGE_ROOT = findRoot(dirname(fileURLToPath(import.meta.url)));

function findRoot(folder: string): string {
  const parent = dirname(folder);
  return existsSync(join(folder, 'package.json')) || parent === folder ? folder : findRoot(parent);
}

/** A path inside the project, from its parts. */
export const inPackage = (...parts: readonly string[]): string => join(PACKAGE_ROOT, ...parts);
