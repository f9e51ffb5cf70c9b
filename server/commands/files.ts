import { createReadStream } from 'node:fs';
import { LIMITS } from '../limits.ts';
import { parseJson } from '../parse-json.ts';
import { RequestError } from '../request-error.ts';
import type { Terminal } from './terminal.ts';

type Input = Pick<Terminal, 'input'>;

/** The bytes of a file, or of standard input for '-'. Refuses in one sentence what cannot be read. */
export async function readBytes(
  path: string,
  what: string,
  limit: number,
  { input }: Input,
): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    for await (const chunk of path === '-' ? input : createReadStream(path)) {
      chunks.push(chunk as Buffer);
      size += (chunk as Buffer).length;
      if (size > limit) break;
    }
  } catch (error) {
    throw refuseRead(path, what, error);
  }
  if (size <= limit) return Buffer.concat(chunks);
  throw new RequestError(413, {
    code: 'too-large',
    message: `${what} ${named(path)} may have at most ${limit} bytes and has more: give a smaller one.`,
    limit,
  });
}

/** JSON from a file or standard input. */
export async function readJsonInput(
  path: string,
  what: string,
  terminal: Input,
  limit = LIMITS.jsonBytes,
): Promise<unknown> {
  return parseJson(
    decode(await readBytes(path, what, limit, terminal), path, what),
    `${what} ${named(path)}`,
  );
}

function decode(bytes: Buffer, path: string, what: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new RequestError(400, {
      code: 'encoding',
      message: `${what} ${named(path)} must be UTF-8 text and is not: save it as UTF-8.`,
    });
  }
}

const READ_FAULTS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file: mend the path, or give - for standard input',
  EISDIR: 'it is a folder: give a file',
  EACCES: 'this user may not read it: change its permissions',
};

function refuseRead(path: string, what: string, error: unknown): RequestError {
  const { code } = error as { code?: string };
  const why = READ_FAULTS[code ?? ''] ?? `reading fails with ${code ?? 'an unknown fault'}: try a copy`;
  return new RequestError(400, {
    code: 'cannot-read',
    message: `${what} ${named(path)} cannot be read; ${why}.`,
  });
}

const named = (path: string): string => (path.trim() === '' ? '""' : path);
