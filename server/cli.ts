#!/usr/bin/env node
import { runCommandLine } from './command-line.ts';
import { PROCESS, stdoutRefusal } from './commands/terminal.ts';

// A reader that has seen enough (`| head`) closes the pipe: that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  process.stderr.write(`${stdoutRefusal(error.code ?? '').message}\n`);
  process.exit(2);
});
process.exitCode = await runCommandLine(process.argv.slice(2), PROCESS);
