import { dirname, resolve } from 'node:path';
import type { CaptureSource } from '../capture-source.ts';
import { severalFitCsv, severalFitJson } from '../../engine/export/serialise.ts';
import { LIMITS } from '../limits.ts';
import { severalFitText } from '../print/several-text.ts';
import { RequestError } from '../request-error.ts';
import { readSession, runSession } from '../session-input.ts';
import type { CoreFlags } from './core-flags.ts';
import { readBytes } from './files.ts';
import type { Terminal } from './terminal.ts';
import { withProgress } from './with-progress.ts';
import { writeOutput } from './write-output.ts';

/** Is this a file of captures that are to be fitted together? */
export const isSession = (file: unknown): boolean =>
  typeof file === 'object' && file !== null && 'captures' in file && Array.isArray(file.captures);

/** `core` with a file of captures: one core fitted to all of them; --save writes what a design takes as its core. */
export async function coreFromSession(
  path: string,
  file: unknown,
  flags: CoreFlags,
  terminal: Terminal,
): Promise<number> {
  const idle = (['one', 'zero', 'edge', 'gain', 'read', 'trace', 'current', 'keep'] as const).find(
    (name) => flags[name] !== undefined,
  );
  if (idle !== undefined)
    throw new RequestError(400, {
      code: 'bad-option',
      field: `--${idle}`,
      message: `--${idle} does not go with a file that names its captures itself: say it in the file, or leave it out.`,
    });
  const frame = readSession(file);
  const folder = path === '-' ? '.' : dirname(path);
  const contents: CaptureSource[] = [];
  for (const [i, { text, file: name }] of frame.captures.entries()) {
    if ((text === undefined) === (name === undefined))
      throw new RequestError(422, {
        code: 'core-captures',
        field: `/captures/${i}`,
        message: `Capture ${i + 1} must have either a file or its text: give one of the two.`,
      });
    contents.push(
      text ?? (await readBytes(resolve(folder, name!), `Capture ${i + 1}`, LIMITS.captureBytes, terminal)),
    );
  }
  const fit = withProgress(terminal, 'iterations at most', (control) =>
    runSession({ frame, contents }, control),
  );
  const write = {
    text: () => severalFitText(fit),
    json: () => severalFitJson(fit),
    csv: () => severalFitCsv(fit),
  }[flags.format];
  await writeOutput(write(), flags.output, terminal);
  if (flags.save !== undefined)
    await writeOutput(`${JSON.stringify(fit.file, null, 2)}\n`, flags.save, terminal);
  return 0;
}
