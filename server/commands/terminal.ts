import { once } from 'node:events';
import { fstatSync, writeSync } from 'node:fs';
import { codeOf } from '../disk.ts';
import { RequestError } from '../request-error.ts';

/** What a command reads from and writes to besides files: those of the process, or others that a test looks at. */
export interface Terminal {
  /** Standard input. */
  readonly input: AsyncIterable<Uint8Array>;
  /** Writes to standard output until all is written; throws RequestError where it cannot. */
  readonly print: (text: string | Uint8Array) => Promise<void>;
  /** Standard error: what is refused or amiss, and how far a long task is. */
  readonly errors: NodeJS.WritableStream & { readonly isTTY?: boolean };
  /** Resolves when whoever started the command wants it to end. */
  readonly askedToEnd: () => Promise<unknown>;
}

/** The streams and signals of this process. */
export const PROCESS: Terminal = {
  // Opened when it is asked for.
  get input() {
    return process.stdin;
  },
  print: printToStdout,
  errors: process.stderr,
  askedToEnd: () => Promise.race([once(process, 'SIGTERM'), once(process, 'SIGINT')]),
};

async function printToStdout(text: string | Uint8Array): Promise<void> {
  const { stdout } = process;
  // Into a file Node makes one call and does not ask how much of it went.
  if (fstatSync(stdout.fd).isFile()) {
    try {
      return writeAll(stdout.fd, typeof text === 'string' ? Buffer.from(text) : text);
    } catch (error) {
      throw stdoutRefusal(codeOf(error));
    }
  }
  // A failed write ends the process: see cli.ts.
  await new Promise<void>((resolve) => stdout.write(text, (error) => !error && resolve()));
}

/** Writes to an open file until all is written. Throws with the system's code; ENOSPC where nothing more is taken. */
export function writeAll(fd: number, bytes: Uint8Array): void {
  for (let at = 0; at < bytes.length;) {
    const written = writeSync(fd, bytes, at);
    if (written === 0) throw Object.assign(new Error(), { code: 'ENOSPC' });
    at += written;
  }
}

export const stdoutRefusal = (code: string): RequestError =>
  new RequestError(507, {
    code: 'cannot-write',
    message: `Standard output cannot be written and holds a part at most (${code || 'unknown fault'}): ${code === 'ENOSPC' ? 'make room on its disk' : 'mend what it is sent to'}, or give --output, which writes whole or not at all.`,
  });
