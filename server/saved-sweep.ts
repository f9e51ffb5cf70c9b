import { join } from 'node:path';
import type { Disk } from './disk.ts';
import { codeOf } from './disk.ts';
import type { FileNames } from './saved-place.ts';
import { ABOUT, isPlace, nameIn } from './saved-place.ts';

export interface Sweeping {
  readonly disk: Disk;
  readonly folder: string;
  readonly names: FileNames;
  /** ms; what was touched since may belong to a server that still writes it. */
  readonly age: number;
}

/**
 * Takes away what a server that was killed left behind: files half-written longer ago than a writer can live, and
 * sub-folders that never got a version. Only what is named exactly as we name it, one file at a time; links are not
 * followed. What is not ours stays where it is: its names are returned.
 */
export async function sweepSaved(sweeping: Sweeping): Promise<string[]> {
  const { disk, folder } = sweeping;
  await disk.mkdir(folder);
  const strangers: string[] = [];
  for (const { name, kind } of await disk.readdir(folder)) {
    if (kind !== 'folder' || !isPlace(name)) strangers.push(name);
    // A sub-folder that cannot be read is named by the list; it does not keep the others from being used.
    else
      strangers.push(...(await sweepPlace(sweeping, name).catch(() => [])).map((file) => `${name}/${file}`));
  }
  return strangers;
}

async function sweepPlace(sweeping: Sweeping, place: string): Promise<string[]> {
  const { disk, folder, names } = sweeping;
  const path = join(folder, place);
  const entries = await disk.readdir(path);
  const ours = entries.filter(({ name, kind }) => kind === 'file' && isOurs(names, name));
  for (const { name } of ours)
    if (names.isTemporary(name) && (await isOld(sweeping, join(path, name))))
      await untilGone(disk.unlink(join(path, name)));
  const strangers = entries.filter((entry) => !ours.includes(entry)).map(({ name }) => name);
  const versions = ours.some(({ name }) => names.toVersion(name) !== undefined);
  if (!versions && strangers.length === 0 && (await isOld(sweeping, path)))
    await removeUnused(sweeping, place);
  return strangers;
}

const isOurs = (names: FileNames, name: string): boolean =>
  name === ABOUT || names.isTemporary(name) || names.toVersion(name) !== undefined;

/** A sub-folder without a version, in which nobody works any more. */
async function removeUnused({ disk, folder }: Sweeping, place: string): Promise<void> {
  const about = join(folder, place, ABOUT);
  const text = await disk.readFile(about).catch(() => undefined);
  if (text !== undefined && nameIn(text, place) !== undefined) await untilGone(disk.unlink(about));
  await untilGone(disk.rmdir(join(folder, place)));
}

async function isOld({ disk, age }: Sweeping, path: string): Promise<boolean> {
  const found = await disk.stat(path).catch(() => undefined);
  return found !== undefined && Date.now() - found.mtime.getTime() >= age;
}

/** Gone already, or not empty after all: another server was there. */
async function untilGone(removal: Promise<void>): Promise<void> {
  await removal.catch((error: unknown) => {
    if (!/^(ENOENT|ENOTEMPTY|EEXIST)$/.test(codeOf(error))) throw error;
  });
}
