import type { Disk } from './disk.ts';
import { partSuffix, writeNew } from './disk.ts';
import type { SavedFolder } from './saved-folder.ts';
import { ifGone } from './saved-folder.ts';
import type { FileNames } from './saved-place.ts';
import { ABOUT } from './saved-place.ts';
import { otherVersion, tooMany, unknownName } from './saved-refusals.ts';

/** Most names in a folder, and most versions of each. */
export interface SavedRoom {
  readonly names: number;
  readonly versions: number;
}

/** Acts that change a folder; each for one name at a time. */
export interface SavedWriting {
  /** Adds a version in a sub-folder: its number. With `expected`, only if that is the newest now (0: there is none yet). */
  saveIn(place: string, name: string, content: Uint8Array, expected: number | undefined): Promise<number>;
  /** Takes away all versions, and then the name. */
  removeFrom(place: string, name: string): Promise<void>;
}

export function writeFolder(
  disk: Disk,
  folder: SavedFolder,
  names: FileNames,
  room: SavedRoom,
): SavedWriting {
  const { at, versionsIn } = folder;

  const saveIn = async (
    place: string,
    name: string,
    content: Uint8Array,
    expected: number | undefined,
  ): Promise<number> => {
    const newest = (await versionsIn(place)).at(-1) ?? 0;
    if (expected !== undefined && expected !== newest) throw otherVersion(expected, newest);
    if (newest === 0 && (await folder.places()).length >= room.names) throw tooMany(room.names);
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
    for (const old of known.slice(0, Math.max(0, known.length - room.versions)))
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

  return { saveIn, removeFrom };
}
