import { constants } from 'node:fs';
import type { Stats } from 'node:fs';
import { access, open, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { codeOf, DISK, partSuffix, replaceWhole } from '../disk.ts';
import { printable } from '../print/printable.ts';
import { RequestError } from '../request-error.ts';
import { writeAll, type Terminal } from './terminal.ts';

/**
 * To a file, whole or not at all; without a path to standard output, where nothing may steer the terminal. A device or
 * a pipe is written to, not replaced. Refuses in one sentence what cannot be written.
 */
export async function writeOutput(
  text: string | Uint8Array,
  path: string | undefined,
  { print }: Pick<Terminal, 'print'>,
): Promise<void> {
  const fd = path === undefined ? STDOUT : openedAs(path);
  if (path === undefined || fd === STDOUT) return print(typeof text === 'string' ? printable(text) : text);
  const bytes = typeof text === 'string' ? Buffer.from(text) : text;
  try {
    if (fd !== undefined) writeAll(fd, bytes);
    else await writeTo(path, bytes);
  } catch (error) {
    throw refuseWrite(path, codeOf(error));
  }
}

const STDOUT = 1;

/** The number of a file that was opened for us, where a path means one: it goes on where that is, appended or not. */
function openedAs(path: string): number | undefined {
  if (path === '/dev/stdout') return STDOUT;
  if (path === '/dev/stderr') return 2;
  const number = /^\/(?:dev|proc\/self)\/fd\/(\d{1,4})$/.exec(path)?.[1];
  return number === undefined ? undefined : Number(number);
}

async function writeTo(path: string, bytes: Uint8Array): Promise<void> {
  if (path === '') throw Object.assign(new Error(), { code: 'ENOENT' });
  const found = await stat(path).catch(ifNone);
  if (found?.isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
  if (found !== undefined && (!found.isFile() || /^\/(dev|proc)\//.test(path))) return writeInto(path, bytes);
  if (found !== undefined) await refuseReadOnly(path, found);
  // A link stays: what it leads to is replaced.
  const target = found === undefined ? path : await realpath(path);
  const folder = dirname(target);
  const part = join(folder, `.${basename(target).slice(0, 80)}${partSuffix()}`);
  await replaceWhole(DISK, { path: target, part, folder, like: found }, bytes);
}

function ifNone(error: unknown): undefined {
  if (codeOf(error) !== 'ENOENT') throw error;
}

/** An administrator may write anything; a file marked read-only is meant to stay all the same. */
async function refuseReadOnly(path: string, { mode }: Stats): Promise<void> {
  if ((mode & 0o222) === 0) throw Object.assign(new Error(), { code: 'READ-ONLY' });
  await access(path, constants.W_OK);
}

/** Into a device or a pipe, until all is written. */
async function writeInto(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, constants.O_WRONLY);
  try {
    await file.writeFile(bytes);
  } finally {
    await file.close();
  }
}

const WRITE_FAULTS: Readonly<Record<string, string>> = {
  ENOENT: 'its folder does not exist: make it, or give another --output',
  ENOTDIR: 'its folder is a file: give another --output',
  EISDIR: 'it is a folder: give the name of a file',
  EACCES: 'this user may not write there: change the permissions, or give another --output',
  EROFS: 'that disk is read-only: give another --output',
  ENOSPC: 'the disk is full: make room, or give another --output',
  EDQUOT: 'no more room is granted to this user there: make room, or give another --output',
  'READ-ONLY': 'it is marked read-only: change its permissions, or give another --output',
};

/** One sentence for what cannot be written, by the system's code. */
export function refuseWrite(path: string, code: string): RequestError {
  const why =
    path === ''
      ? 'its name is empty: give the name of a file'
      : (WRITE_FAULTS[code] ?? `writing fails with ${code || 'an unknown fault'}: give another --output`);
  const named = path.trim() === '' ? '""' : path;
  return new RequestError(400, {
    code: 'cannot-write',
    message: `Output ${named} cannot be written and what was there is unchanged; ${why}.`,
  });
}
