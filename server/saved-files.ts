import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import writeFileAtomic from 'write-file-atomic';
import { shorten } from './query.ts';
import { RequestError } from './request-error.ts';

interface SavedEntry {
  readonly name: string;
  /** The newest: 1 for the first; every save adds one. */
  readonly version: number;
  /** Those that are still kept, oldest first. */
  readonly versions: readonly number[];
  /** When it was saved, ISO 8601. */
  readonly saved: string;
  readonly bytes: number;
}

export interface SavedFiles {
  list(): Promise<SavedEntry[]>;
  /** The newest version, or the one asked for. */
  read(name: string, version?: number): Promise<{ readonly content: Buffer; readonly version: number }>;
  /** Adds a version. With `expected`, only if that is the newest now (0: there is none yet). */
  save(name: string, content: Uint8Array, expected?: number): Promise<{ readonly version: number }>;
  remove(name: string): Promise<void>;
}

/** The disk calls that are made; tests put in ones that fail. */
export interface Disk {
  readonly write: (path: string, content: Buffer) => Promise<void>;
  readonly mkdir: (path: string) => Promise<unknown>;
  readonly readdir: (path: string) => Promise<string[]>;
  readonly readFile: (path: string) => Promise<Buffer>;
  readonly stat: (path: string) => Promise<{ readonly mtime: Date; readonly size: number }>;
  readonly rm: (path: string) => Promise<void>;
}

export const DISK: Disk = {
  write: (path, content) => writeFileAtomic(path, content),
  mkdir: (path) => mkdir(path, { recursive: true }),
  readdir: (path) => readdir(path),
  readFile: (path) => readFile(path),
  stat,
  rm: (path) => rm(path, { recursive: true, force: true }),
};

export interface SavedOptions {
  readonly folder: string;
  readonly extension: 'json' | 'csv';
  readonly names: number;
  readonly versions: number;
  readonly disk?: Disk;
}

const ABOUT = 'about.json';

/**
 * A plain folder: one sub-folder a name, in it `about.json` with the name as given and one file a version, written
 * whole or not at all. A name never is a path: the sub-folder is made of its letters and digits and a hash.
 */
export function openSavedFiles({
  folder,
  extension,
  names,
  versions,
  disk = DISK,
}: SavedOptions): SavedFiles {
  const turns = new Map<string, Promise<unknown>>();
  const fileOf = (version: number): string => `${String(version).padStart(6, '0')}.${extension}`;
  const versionFile = new RegExp(`^(\\d{6,})\\.${extension}$`);
  let swept: Promise<void> | undefined;

  /** Undefined where there is no such sub-folder; any other fault must not look like an empty one. */
  const filesIn = (place: string): Promise<string[] | undefined> =>
    disk.readdir(join(folder, place)).catch(ifGone);

  /** Leftovers of a server that was killed: half-written files, names without a version. */
  const sweep = async (): Promise<void> => {
    await disk.mkdir(folder);
    for (const place of await disk.readdir(folder)) {
      const files = await filesIn(place);
      if (files === undefined) continue;
      const whole = files.filter((file) => versionFile.test(file));
      if (whole.length === 0 || !files.includes(ABOUT)) {
        await disk.rm(join(folder, place));
        continue;
      }
      for (const file of files) {
        if (file !== ABOUT && !whole.includes(file)) await disk.rm(join(folder, place, file));
      }
    }
  };
  const ready = (): Promise<void> => {
    swept ??= sweep();
    swept.catch(() => (swept = undefined));
    return swept;
  };

  /** One after the other for each name. */
  const inTurn = <T>(place: string, work: () => Promise<T>): Promise<T> => {
    const turn = (turns.get(place) ?? Promise.resolve()).then(work, work);
    const settled = turn
      .catch(() => {})
      .then(() => {
        if (turns.get(place) === settled) turns.delete(place);
      });
    turns.set(place, settled);
    return turn;
  };

  const versionsIn = async (place: string): Promise<number[]> => {
    const files = (await filesIn(place)) ?? [];
    return files
      .flatMap((file) => versionFile.exec(file)?.[1] ?? [])
      .map(Number)
      .sort((a, b) => a - b);
  };

  const describe = async (place: string): Promise<SavedEntry | undefined> => {
    const versions = await versionsIn(place);
    const version = versions.at(-1);
    if (version === undefined) return undefined;
    const about = JSON.parse((await disk.readFile(join(folder, place, ABOUT))).toString()) as SavedEntry;
    const { mtime, size } = await disk.stat(join(folder, place, fileOf(version)));
    return { name: about.name, version, versions, saved: mtime.toISOString(), bytes: size };
  };

  const told = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      await ready();
      return await work();
    } catch (error) {
      throw error instanceof RequestError ? error : diskRefusal(error);
    }
  };

  return {
    list: () =>
      told(async () => {
        const entries: SavedEntry[] = [];
        for (const place of await disk.readdir(folder)) {
          // What is removed or replaced meanwhile is not in the list.
          const entry = await describe(place).catch(ifGone);
          if (entry !== undefined) entries.push(entry);
        }
        return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
      }),
    read: (name, wanted) =>
      told(async () => {
        const place = placeOf(name);
        const known = await versionsIn(place);
        const version = wanted ?? known.at(-1);
        if (version === undefined || !known.includes(version)) throw unknownName(name, wanted);
        const content = await disk.readFile(join(folder, place, fileOf(version))).catch(ifGone);
        if (content === undefined) throw unknownName(name, wanted);
        return { version, content };
      }),
    save: (name, content, expected) =>
      told(() => {
        const place = placeOf(name);
        return inTurn(place, async () => {
          const known = await versionsIn(place);
          const newest = known.at(-1) ?? 0;
          if (expected !== undefined && expected !== newest) throw otherVersion(expected, newest);
          if (newest === 0) {
            if ((await disk.readdir(folder)).length >= names) throw tooMany(names);
            await disk.mkdir(join(folder, place));
            await disk.write(join(folder, place, ABOUT), Buffer.from(`${JSON.stringify({ name })}\n`));
          }
          await disk.write(join(folder, place, fileOf(newest + 1)), Buffer.from(content));
          for (const old of known.slice(0, Math.max(0, known.length + 1 - versions))) {
            await disk.rm(join(folder, place, fileOf(old))).catch(() => {});
          }
          return { version: newest + 1 };
        });
      }),
    remove: (name) =>
      told(() => {
        const place = placeOf(name);
        return inTurn(place, async () => {
          if ((await versionsIn(place)).length === 0) throw unknownName(name, undefined);
          await disk.rm(join(folder, place));
        });
      }),
  };
}

/** Undefined for what is not there; any other fault stays a fault. */
function ifGone(error: { readonly code?: unknown }): undefined {
  if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return undefined;
  throw error;
}

/** Letters and digits of the name for a reader, and a hash that tells names apart. Refuses what is no name. */
function placeOf(name: string): string {
  // oxlint-disable-next-line no-control-regex -- control characters are what is refused
  if (name.trim() === '' || name.length > 100 || /[\u0000-\u001f\u007f]/.test(name)) {
    throw new RequestError(422, {
      code: 'bad-name',
      message: `A name must have 1 to 100 characters and no control characters; received ${shorten(name)}: give another.`,
      limit: 100,
    });
  }
  const normal = name.normalize('NFC');
  const words = normal
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-');
  const hash = createHash('sha256').update(normal).digest('hex').slice(0, 16);
  return `${words.replaceAll(/^-+|-+$/g, '').slice(0, 40)}-${hash}`;
}

function unknownName(name: string, version: number | undefined): RequestError {
  const what = version === undefined ? shorten(name) : `${shorten(name)} in version ${version}`;
  return new RequestError(404, {
    code: 'not-found',
    message: `Nothing is saved as ${what}: the list says what is.`,
  });
}

function otherVersion(expected: number, newest: number): RequestError {
  return new RequestError(412, {
    code: 'other-version',
    message: `Version ${expected} was to be followed, but ${newest} is the newest: read it, then save again.`,
    limit: newest,
  });
}

function tooMany(limit: number): RequestError {
  return new RequestError(422, {
    code: 'too-many-saved',
    message: `At most ${limit} names may be saved and as many are: remove one first.`,
    limit,
  });
}

/** A disk that does not do its work, without a path. */
function diskRefusal(error: unknown): RequestError {
  const { code } = error as { code?: unknown };
  const full = code === 'ENOSPC' || code === 'EDQUOT';
  const word = typeof code === 'string' ? code : 'unknown fault';
  return new RequestError(507, {
    code: full ? 'disk-full' : 'disk-fault',
    message: `The folder of saved work cannot be read or written (${word}) and what was saved before is as it was: ${full ? 'make room' : 'check the folder given with --data'}.`,
  });
}
