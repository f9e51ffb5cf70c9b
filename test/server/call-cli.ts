import { Readable, Writable } from 'node:stream';
import { runCommandLine } from '../../server/command-line.ts';
import type { Ended } from './run-cli.ts';

/**
 * The command line within this process: what `runCli` gives, without the time that a process takes to start.
 *
 * @param options.run another build of it
 */
export async function callCli(
  words: readonly string[],
  {
    input = '',
    run = runCommandLine,
  }: { readonly input?: string | Buffer; readonly run?: typeof runCommandLine } = {},
): Promise<Ended> {
  const out: Uint8Array[] = [];
  let stderr = '';
  const errors = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      stderr += chunk.toString();
      done();
    },
  });
  const status = await run(words, {
    input: Readable.from([Buffer.from(input)]),
    print: async (text) => void out.push(Buffer.from(text)),
    errors,
    askedToEnd: async () => undefined,
  });
  return { status, stdout: Buffer.concat(out).toString(), stderr };
}

/** What was told on standard error beside how far the work is: that line comes where a machine is slow. */
export const exceptProgress = ({ stderr }: Ended): string =>
  stderr.replace(/^\d+ of \d+ [^\n]*, \d+ runs of the model\n/gm, '');
