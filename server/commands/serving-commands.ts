import type { Command } from 'commander';
import { Argument, Option } from 'commander';
import { designJsonSchema } from '../../engine/design/schema/design-schema.ts';
import { needsJsonSchema } from '../../engine/propose/needs.ts';
import { outputOption } from './options.ts';
import type { Take } from './options.ts';
import type { Terminal } from './terminal.ts';
import { writeOutput } from './write-output.ts';
import { LIMITS } from '../limits.ts';

/** The server, and what programs want to know beforehand. */
export function declareServingCommands(root: Command, terminal: Terminal, take: Take): void {
  root
    .command('schema')
    .description('the JSON Schema of a design, or of a needs file')
    .addArgument(new Argument('[file]', 'what kind of file').choices(['design', 'needs']).default('design'))
    .addOption(outputOption())
    .action((kind: 'design' | 'needs', options: { output?: string }) => {
      const schema = kind === 'design' ? designJsonSchema() : needsJsonSchema();
      return writeOutput(`${JSON.stringify(schema, null, 2)}\n`, options.output, terminal);
    });
  root
    .command('serve')
    .description('the page and the HTTP interface')
    .option(
      '--host <address>',
      'address to listen on; anything but loopback is open to the network',
      '127.0.0.1',
    )
    .addOption(new Option('--port <number>', 'port to listen on, 0 for any').env('PORT').default('8047'))
    .option('--data <folder>', 'folder of saved designs and captures', 'data')
    .option('--workers <number>', 'threads for studies and fits (default: one a processor)')
    .option('--rate <number>', 'requests a minute answered to one client', String(LIMITS.requestsPerMinute))
    .option(
      '--client-header <name>',
      'behind a proxy: the header in which it names the client, such as X-Forwarded-For (default: one address, one client)',
    )
    .addOption(
      new Option('--log-level <level>', 'what is logged on standard error')
        .choices(['silent', 'error', 'warn', 'info', 'debug'])
        .default('warn'),
    )
    .action((flags) => take(import('./serve.ts').then(({ serveCommand }) => serveCommand(flags, terminal))));
}
