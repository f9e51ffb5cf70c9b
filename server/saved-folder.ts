import { join } from 'node:path';
import type { Disk } from './disk.ts';
import { codeOf, partSuffix, replaceWhole } from './disk.ts';
import type { FileNames } from './saved-place.ts';
import { ABOUT, aboutText, isPlace, nameIn } from './saved-place.ts';
import { otherVersion } from './saved-refusals.ts';

/** Other servers may take a number while a version is on its way, each time the next one. */
const ATTEMPTS = 1000;

/** The sub-folders of saved work and the files in them: what is there, and how a version gets its name. */
export interface SavedFolder {
  readonly at: (...parts: readonly string[]) => string;
  places(): Promise<string[]>;
  /** Oldest first; none where there is no such sub-folder. Any other fault must not look like an empty one. */
  versionsIn(place: string): Promise<number[]>;
  /** The name under which a place was saved; undefined where that is lost. */
  nameOf(place: string): Promise<string | undefined>;
  /** Write the name down where it is not. */
  keepName(place: string, name: string): Promise<void>;
  /** Give what was written as `part` the next number that nobody else has. Throws RequestError for another than expected. */
  addVersion(place: string, part: string, expected: number | undefined): Promise<number>;
}

export function openFolder(disk: Disk, folder: string, names: FileNames): SavedFolder {
  const at = (...parts: readonly string[]): string => join(folder, ...parts);
  const versionsIn = async (place: string): Promise<number[]> => {
    const entries = (await disk.readdir(at(place)).catch(ifGone)) ?? [];
    return entries
      .flatMap(({ name, kind }) => (kind === 'file' ? (names.toVersion(name) ?? []) : []))
      .sort((a, b) => a - b);
  };
  const nameOf = async (place: string): Promise<string | undefined> => {
    const about = await disk.readFile(at(place, ABOUT)).catch(() => undefined);
    return about && nameIn(about, place);
  };
  return {
    at,
    versionsIn,
    nameOf,
    places: async () =>
      (await disk.readdir(folder))
        .filter(({ name, kind }) => kind === 'folder' && isPlace(name))
        .map(({ name }) => name),
    async keepName(place, name) {
      // Work whose name is lost is saved under that of its sub-folder: no name to write down.
      if (place === name || (await nameOf(place)) !== undefined) return;
      const path = at(place, ABOUT);
      await replaceWhole(disk, { path, part: path + partSuffix(), folder: at(place) }, aboutText(name));
    },
    async addVersion(place, part, expected) {
      let taken = 0;
      for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
        const newest = Math.max(taken, (await versionsIn(place)).at(-1) ?? 0);
        if (expected !== undefined && expected !== newest) throw otherVersion(expected, newest);
        if (await nameExclusively(disk, part, at(place, names.ofVersion(newest + 1)))) return newest + 1;
        taken = newest + 1;
      }
      throw new Error('no number is free');
    },
  };
}

/** Give a file a name unless somebody else has it: whether it was given. */
async function nameExclusively(disk: Disk, part: string, path: string): Promise<boolean> {
  try {
    await disk.link(part, path);
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    if (!/^(EPERM|ENOTSUP|EOPNOTSUPP|ENOSYS)$/.test(codeOf(error))) throw error;
    return nameByClaim(disk, part, path);
  }
  await disk.unlink(part).catch(() => {});
  return true;
}

/** On a disk without second names: whoever makes the claim may rename. A claim left behind costs a number. */
async function nameByClaim(disk: Disk, part: string, path: string): Promise<boolean> {
  const claim = `${path}.claim`;
  try {
    await (await disk.create(claim)).close();
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
  try {
    if ((await disk.stat(path).catch(ifGone)) !== undefined) return false;
    await disk.rename(part, path);
    return true;
  } finally {
    await disk.unlink(claim).catch(() => {});
  }
}

const isGone = (error: unknown): boolean => /^(ENOENT|ENOTDIR)$/.test(codeOf(error));

/** Undefined for what is not there; any other fault stays a fault. */
export function ifGone(error: unknown): undefined {
  if (!isGone(error)) throw error;
}

/** Undefined for what is not there; something else for any other fault. */
export const ifGoneOr = <T>(error: unknown, otherwise: T): T | undefined =>
  isGone(error) ? undefined : otherwise;
