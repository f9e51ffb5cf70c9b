import { randomBytes } from 'node:crypto';
import { link, lstat, mkdir, open, readdir, readFile, rename, rmdir, unlink } from 'node:fs/promises';

/** A new file that is being written. */
export interface NewFile {
  /** Write what fits; how many bytes that was, which may be fewer than given. */
  write(bytes: Uint8Array): Promise<number>;
  /** Until it is on the disk and not only on its way. */
  sync(): Promise<void>;
  size(): Promise<number>;
  close(): Promise<void>;
}

/** Whose a file is and who may use it. */
export interface FileLike {
  readonly mode: number;
  readonly uid: number;
  readonly gid: number;
}

export interface DiskEntry {
  readonly name: string;
  /** A link is `other`, whatever it leads to: it is never followed. */
  readonly kind: 'file' | 'folder' | 'other';
}

/** The calls of the disk that are made; tests put in ones that fail or write short. */
export interface Disk {
  /** A file that was not there before. */
  readonly create: (path: string, like?: FileLike) => Promise<NewFile>;
  readonly rename: (from: string, to: string) => Promise<void>;
  /** A second name for a file; fails where the name is taken. */
  readonly link: (from: string, to: string) => Promise<void>;
  readonly unlink: (path: string) => Promise<void>;
  readonly mkdir: (path: string) => Promise<unknown>;
  /** Only of an empty folder. */
  readonly rmdir: (path: string) => Promise<void>;
  readonly readdir: (path: string) => Promise<readonly DiskEntry[]>;
  readonly readFile: (path: string) => Promise<Buffer>;
  /** Of the thing itself, not of what a link leads to. */
  readonly stat: (path: string) => Promise<{ readonly mtime: Date; readonly size: number }>;
  /** Until the names in a folder are on the disk. */
  readonly syncFolder: (path: string) => Promise<void>;
}

export const DISK: Disk = {
  create: async (path, like) => {
    const file = await open(path, 'wx');
    if (like !== undefined) {
      // Only an administrator may give a file away.
      await file.chown(like.uid, like.gid).catch(() => {});
      await file.chmod(like.mode & 0o7777);
    }
    return {
      write: async (bytes) => (await file.write(bytes)).bytesWritten,
      sync: () => file.sync(),
      size: async () => (await file.stat()).size,
      close: () => file.close(),
    };
  },
  rename,
  link,
  unlink,
  mkdir: (path) => mkdir(path, { recursive: true }),
  rmdir: (path) => rmdir(path),
  readdir: async (path) =>
    (await readdir(path, { withFileTypes: true })).map((entry) => ({
      name: entry.name,
      kind: entry.isFile() ? 'file' : entry.isDirectory() ? 'folder' : 'other',
    })),
  readFile: (path) => readFile(path),
  stat: (path) => lstat(path),
  syncFolder,
};

/** Some systems do not sync folders; there the name is as safe as they make it. */
async function syncFolder(path: string): Promise<void> {
  try {
    const folder = await open(path, 'r');
    await folder.sync().finally(() => folder.close());
  } catch (error) {
    if (!/^(EINVAL|EPERM|EACCES|EISDIR|ENOTSUP|EBADF)$/.test(codeOf(error))) throw error;
  }
}

/** The system's word for a fault; empty where it has none. */
export const codeOf = (error: unknown): string => {
  const { code } = error as { readonly code?: unknown };
  return typeof code === 'string' ? code : '';
};

/** The end of the name of a file that is being written: nobody else makes such a name by chance. */
export const partSuffix = (): string => `.${randomBytes(8).toString('hex')}.part`;
export const PART = /\.[0-9a-f]{16}\.part$/;

/**
 * Write a new file whole: until all bytes are written, are on the disk and have been counted. Where that fails it is
 * taken away again and the fault thrown. A disk that takes no more without saying so counts as full.
 */
export async function writeNew(
  disk: Disk,
  path: string,
  content: Uint8Array,
  like?: FileLike,
): Promise<void> {
  const file = await disk.create(path, like);
  try {
    try {
      for (let at = 0; at < content.length;) {
        const written = await file.write(content.subarray(at));
        if (!(written > 0)) throw fault('ENOSPC', 'nothing more was written');
        at += written;
      }
      await file.sync();
      if ((await file.size()) !== content.length)
        throw fault('EIO', 'the file has another size than it should');
    } finally {
      await file.close();
    }
  } catch (error) {
    await disk.unlink(path).catch(() => {});
    throw error;
  }
}

/** Put a file in the place of another, whole or not at all: `part` is the name under which it is written. */
export async function replaceWhole(
  disk: Disk,
  { path, part, folder, like }: { path: string; part: string; folder: string; like?: FileLike },
  content: Uint8Array,
): Promise<void> {
  await writeNew(disk, part, content, like);
  try {
    await disk.rename(part, path);
  } catch (error) {
    await disk.unlink(part).catch(() => {});
    throw error;
  }
  await disk.syncFolder(folder);
}

const fault = (code: string, message: string): Error => Object.assign(new Error(message), { code });
