import { Readable, Writable } from 'node:stream';
import { runCommandLine } from '../../server/command-line.ts';
import type { Ended } from './run-cli.ts';

/** The command line within this process: what `runCli` gives, without the time that a process takes to start. */
export async function callCli(
  words: readonly string[],
  { input = '' }: { readonly input?: string | Buffer } = {},
): Promise<Ended> {
  const out: Uint8Array[] = [];
  let stderr = '';
  const errors = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      stderr += chunk.toString();
      done();
    },
  });
  const status = await runCommandLine(words, {
    input: Readable.from([Buffer.from(input)]),
    print: async (text) => void out.push(Buffer.from(text)),
    errors,
    askedToEnd: async () => undefined,
  });
  return { status, stdout: Buffer.concat(out).toString(), stderr };
}
