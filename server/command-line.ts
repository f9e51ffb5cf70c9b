import { Command, CommanderError } from 'commander';
import { VERSION } from '../engine/base/version.ts';
import { declareBenchCommands } from './commands/bench-commands.ts';
import { declareDesignCommands } from './commands/design-commands.ts';
import type { Take } from './commands/options.ts';
import { declareSearchCommands } from './commands/search-commands.ts';
import { declareServingCommands } from './commands/serving-commands.ts';
import type { Terminal } from './commands/terminal.ts';
import { printable } from './print/printable.ts';
import { toRequestError } from './request-error.ts';

const DECLARED = [declareDesignCommands, declareBenchCommands, declareSearchCommands, declareServingCommands];

/**
 * Runs one command. Returns the exit status: 0 done, 2 refused, 3 requirement not met, 4 merge lacks points, 5 fit not converged, 1 fault
 * inside, 130 stopped by Ctrl-C.
 */
export async function runCommandLine(words: readonly string[], terminal: Terminal): Promise<number> {
  try {
    return await runCommand(words, terminal);
  } catch (error) {
    const refusal = toRequestError(error);
    terminal.errors.write(
      `${refusal === undefined ? faultSentence(error) : oneLine(printable(refusal.message))}\n`,
    );
    return refusal === undefined ? 1 : 2;
  }
}

async function runCommand(words: readonly string[], terminal: Terminal): Promise<number> {
  let status = 0;
  const helpPrinted: Promise<void>[] = [];
  const root = new Command('strobewright')
    .description('Predicts the sense waveform of a coincident-current core memory and says when to strobe.')
    .version(VERSION)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => void helpPrinted.push(terminal.print(text)),
      writeErr: (text) => void terminal.errors.write(printable(text)),
    })
    .showHelpAfterError('(add --help for what there is)');
  const take: Take = (promise) => promise.then((code) => void (status = code));
  for (const declare of DECLARED) declare(root, terminal, take);
  try {
    await root.parseAsync(words, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode !== 0) return 2;
  }
  await Promise.all(helpPrinted);
  return status;
}

/** A path may hold line ends; a refusal is one line all the same. */
const oneLine = (text: string): string => text.replaceAll('\n', '\\n');

/** A fault of our own, without its inside unless STROBEWRIGHT_DEBUG asks for it. */
function faultSentence(error: unknown): string {
  const inside =
    process.env['STROBEWRIGHT_DEBUG'] !== undefined && error instanceof Error ? `\n${error.stack}` : '';
  return `A fault inside Strobewright, not in what was asked: please report the command and the file.${inside}`;
}
