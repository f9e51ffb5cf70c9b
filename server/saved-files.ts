import type { Disk } from './disk.ts';
import { codeOf, DISK } from './disk.ts';
import { RequestError } from './request-error.ts';
import { openFolder } from './saved-folder.ts';
import { fileNames } from './saved-place.ts';
import { readFolder } from './saved-reading.ts';
import type { SavedReading } from './saved-reading.ts';
import { diskRefusal } from './saved-refusals.ts';
import { sweepSaved } from './saved-sweep.ts';
import { writeFolder } from './saved-writing.ts';
import type { SavedRoom } from './saved-writing.ts';

export interface SavedFiles extends Omit<SavedReading, 'placeFor'> {
  /** Adds a version. With `expected`, only if that is the newest now (0: there is none yet). */
  save(name: string, content: Uint8Array, expected?: number): Promise<{ readonly version: number }>;
  remove(name: string): Promise<void>;
}

export interface SavedOptions extends SavedRoom {
  readonly folder: string;
  readonly extension: 'json' | 'csv';
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
  const { list, locate, read, placeFor } = readFolder(disk, folder, names);
  const { saveIn, removeFrom } = writeFolder(disk, folder, names, options);
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
