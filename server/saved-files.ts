import type { Disk } from './disk.ts';
import { codeOf, DISK, partSuffix, writeNew } from './disk.ts';
import { RequestError } from './request-error.ts';
import { ifGone, ifGoneOr, openFolder } from './saved-folder.ts';
import { ABOUT, fileNames, isPlace, placeOf } from './saved-place.ts';
import { diskRefusal, otherVersion, tooMany, unknownName } from './saved-refusals.ts';
import { sweepSaved } from './saved-sweep.ts';

export interface SavedEntry {
  /** As given; where that is not known any more, the name of the sub-folder, by which it can still be read. */
  readonly name: string;
  /** What is wrong with it, where something is. */
  readonly damaged?: string;
  /** The newest: 1 for the first; every save adds one. */
  readonly version: number;
  /** Those that are still kept, oldest first. */
  readonly versions: readonly number[];
  /** When it was saved, ISO 8601. */
  readonly saved: string;
  readonly bytes: number;
}

/** One version as a file: to be read where it is needed. */
export interface SavedFile {
  readonly path: string;
  readonly version: number;
  readonly bytes: number;
}

export interface SavedFiles {
  list(): Promise<SavedEntry[]>;
  /** The newest version, or the one asked for. */
  read(name: string, version?: number): Promise<{ readonly content: Buffer; readonly version: number }>;
  /** The same without its content. */
  locate(name: string, version?: number): Promise<SavedFile>;
  /** Adds a version. With `expected`, only if that is the newest now (0: there is none yet). */
  save(name: string, content: Uint8Array, expected?: number): Promise<{ readonly version: number }>;
  remove(name: string): Promise<void>;
}

export interface SavedOptions {
  readonly folder: string;
  readonly extension: 'json' | 'csv';
  readonly names: number;
  readonly versions: number;
  readonly disk?: Disk;
  /** ms after which a half-written file is swept: longer than any writer lives. */
  readonly leftoverAge?: number;
  /** Told of what lies in the folder and is not ours. */
  readonly onStrangers?: (names: readonly string[]) => void;
}

const HOUR = 3_600_000;

/**
 * A plain folder: one sub-folder a name, in it `about.json` with the name as given and one file a version, written
 * whole or not at all. A name never is a path: the sub-folder is made of its letters and digits and a hash. Several
 * servers may use one folder: a version belongs to whoever gives the file its name first.
 */
export function openSavedFiles(options: SavedOptions): SavedFiles {
  const { disk = DISK, leftoverAge = HOUR } = options;
  const names = fileNames(options.extension);
  const folder = openFolder(disk, options.folder, names);
  const { at, versionsIn } = folder;
  const inTurn = turnsByKey();
  let swept: Promise<void> | undefined;

  const sweep = async (): Promise<void> => {
    const strangers = await sweepSaved({ disk, folder: options.folder, names, age: leftoverAge });
    if (strangers.length > 0) options.onStrangers?.(strangers);
  };
  const told = async <T>(work: () => Promise<T>): Promise<T> => {
    swept ??= sweep();
    swept.catch(() => (swept = undefined));
    try {
      await swept;
      return await work();
    } catch (error) {
      throw error instanceof RequestError ? error : diskRefusal(codeOf(error));
    }
  };

  const describe = async (place: string): Promise<SavedEntry | undefined> => {
    const versions = await versionsIn(place);
    const version = versions.at(-1);
    if (version === undefined) return undefined;
    const { mtime, size } = await disk.stat(at(place, names.ofVersion(version)));
    const entry = { version, versions, saved: mtime.toISOString(), bytes: size };
    const name = await folder.nameOf(place);
    return name === undefined ? { name: place, damaged: nameLost(place), ...entry } : { name, ...entry };
  };

  /** The sub-folder of a name; work whose name is lost goes by that of its sub-folder. */
  const placeFor = async (name: string): Promise<string> => {
    const place = placeOf(name);
    if (!isPlace(name) || (await versionsIn(place)).length > 0) return place;
    return (await versionsIn(name)).length > 0 && (await folder.nameOf(name)) === undefined ? name : place;
  };

  const locate = async (name: string, wanted: number | undefined): Promise<SavedFile> => {
    const place = await placeFor(name);
    const known = await versionsIn(place);
    const version = wanted ?? known.at(-1);
    if (version === undefined || !known.includes(version)) throw unknownName(name, wanted);
    const path = at(place, names.ofVersion(version));
    const found = await disk.stat(path).catch(ifGone);
    if (found === undefined) throw unknownName(name, wanted);
    return { path, version, bytes: found.size };
  };

  const saveIn = async (
    place: string,
    name: string,
    content: Uint8Array,
    expected: number | undefined,
  ): Promise<number> => {
    const newest = (await versionsIn(place)).at(-1) ?? 0;
    if (expected !== undefined && expected !== newest) throw otherVersion(expected, newest);
    if (newest === 0 && (await folder.places()).length >= options.names) throw tooMany(options.names);
    await disk.mkdir(at(place));
    await folder.keepName(place, name);
    const part = at(place, names.ofVersion(newest + 1) + partSuffix());
    await writeNew(disk, part, content);
    try {
      const version = await folder.addVersion(place, part, expected);
      // Whoever removed the name meanwhile may have taken it along.
      await folder.keepName(place, name);
      await disk.syncFolder(at(place));
      await prune(place).catch(() => {});
      return version;
    } catch (error) {
      await disk.unlink(part).catch(() => {});
      throw error;
    }
  };

  const prune = async (place: string): Promise<void> => {
    const known = await versionsIn(place);
    for (const old of known.slice(0, Math.max(0, known.length - options.versions)))
      await disk.unlink(at(place, names.ofVersion(old)));
  };

  const removeFrom = async (place: string, name: string): Promise<void> => {
    const known = await versionsIn(place);
    if (known.length === 0) throw unknownName(name, undefined);
    // The newest last: what is left of a removal that is cut short is what was there.
    for (const version of known) await disk.unlink(at(place, names.ofVersion(version))).catch(ifGone);
    if ((await versionsIn(place)).length > 0) return;
    await disk.unlink(at(place, ABOUT)).catch(ifGone);
    // Saved again by another server at that very moment: then it keeps its name.
    if ((await versionsIn(place)).length > 0) return folder.keepName(place, name);
    await disk.rmdir(at(place)).catch(() => {});
  };

  const list = async (): Promise<SavedEntry[]> => {
    const entries: SavedEntry[] = [];
    for (const place of await folder.places()) {
      // What is removed meanwhile is not in the list; one that cannot be read does not hide the rest.
      const entry = await describe(place).catch((error: unknown) =>
        ifGoneOr(error, unreadable(place, error)),
      );
      if (entry !== undefined) entries.push(entry);
    }
    return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  };

  const read: SavedFiles['read'] = async (name, wanted) => {
    const { path, version } = await locate(name, wanted);
    const content = await disk.readFile(path).catch(ifGone);
    if (content === undefined) throw unknownName(name, wanted);
    return { version, content };
  };

  return {
    list: () => told(list),
    locate: (name, version) => told(() => locate(name, version)),
    read: (name, version) => told(() => read(name, version)),
    save: (name, content, expected) =>
      told(async () => {
        const place = await placeFor(name);
        const work = () => again(() => saveIn(place, name, content, expected));
        return { version: await inTurn(place, work) };
      }),
    remove: (name) =>
      told(async () => {
        const place = await placeFor(name);
        return inTurn(place, () => removeFrom(place, name));
      }),
  };
}

const nameLost = (place: string): string =>
  `The name under which this was saved is lost (${ABOUT} in ${place} cannot be read); the work itself is whole: open it by the name shown and save it under a new one.`;

const unreadable = (place: string, error: unknown): SavedEntry => ({
  name: place,
  damaged: `The sub-folder ${place} cannot be read (${codeOf(error) || 'unknown fault'}); it is left as it is: check its permissions and the disk.`,
  version: 0,
  versions: [],
  saved: new Date(0).toISOString(),
  bytes: 0,
});

/** Works one after the other for each key. */
function turnsByKey(): <T>(key: string, work: () => Promise<T>) => Promise<T> {
  const turns = new Map<string, Promise<unknown>>();
  return (key, work) => {
    const turn = (turns.get(key) ?? Promise.resolve()).then(work, work);
    const settled = turn
      .catch(() => {})
      .then(() => {
        if (turns.get(key) === settled) turns.delete(key);
      });
    turns.set(key, settled);
    return turn;
  };
}

/** Another server may remove a sub-folder while something is written there: then once more. */
async function again<T>(work: () => Promise<T>): Promise<T> {
  for (let left = 20; ; left--) {
    try {
      return await work();
    } catch (error) {
      if (left === 0 || codeOf(error) !== 'ENOENT') throw error;
    }
  }
}
