import type { Disk } from './disk.ts';
import { codeOf } from './disk.ts';
import type { SavedFolder } from './saved-folder.ts';
import { ifGone, ifGoneOr } from './saved-folder.ts';
import type { FileNames } from './saved-place.ts';
import { ABOUT, isPlace, placeOf } from './saved-place.ts';
import { unknownName } from './saved-refusals.ts';

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

/** What is kept in a folder, as it lies there. */
export interface SavedReading {
  list(): Promise<SavedEntry[]>;
  /** The newest version, or the one asked for. */
  read(name: string, version?: number): Promise<{ readonly content: Buffer; readonly version: number }>;
  /** The same without its content. */
  locate(name: string, version?: number): Promise<SavedFile>;
  /** The sub-folder of a name; work whose name is lost goes by that of its sub-folder. */
  placeFor(name: string): Promise<string>;
}

export function readFolder(disk: Disk, folder: SavedFolder, names: FileNames): SavedReading {
  const { at, versionsIn } = folder;

  const describe = async (place: string): Promise<SavedEntry | undefined> => {
    const versions = await versionsIn(place);
    const version = versions.at(-1);
    if (version === undefined) return undefined;
    const { mtime, size } = await disk.stat(at(place, names.ofVersion(version)));
    const entry = { version, versions, saved: mtime.toISOString(), bytes: size };
    const name = await folder.nameOf(place);
    return name === undefined ? { name: place, damaged: nameLost(place), ...entry } : { name, ...entry };
  };

  const placeFor = async (name: string): Promise<string> => {
    const place = placeOf(name);
    if (!isPlace(name) || (await versionsIn(place)).length > 0) return place;
    return (await versionsIn(name)).length > 0 && (await folder.nameOf(name)) === undefined ? name : place;
  };

  const locate = async (name: string, wanted?: number): Promise<SavedFile> => {
    const place = await placeFor(name);
    const known = await versionsIn(place);
    const version = wanted ?? known.at(-1);
    if (version === undefined || !known.includes(version)) throw unknownName(name, wanted);
    const path = at(place, names.ofVersion(version));
    const found = await disk.stat(path).catch(ifGone);
    if (found === undefined) throw unknownName(name, wanted);
    return { path, version, bytes: found.size };
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

  const read: SavedReading['read'] = async (name, wanted) => {
    const { path, version } = await locate(name, wanted);
    const content = await disk.readFile(path).catch(ifGone);
    if (content === undefined) throw unknownName(name, wanted);
    return { version, content };
  };

  return { list, locate, read, placeFor };
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
