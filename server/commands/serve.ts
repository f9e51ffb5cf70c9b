import { shorten } from '../query.ts';
import { RequestError } from '../request-error.ts';
import { isLoopback, serve } from '../serve.ts';
import type { Terminal } from './terminal.ts';
import { wholeNumber } from './whole-number.ts';

export interface ServeFlags {
  readonly host: string;
  readonly port: string;
  readonly data: string;
  readonly workers?: string;
  readonly rate: string;
  readonly clientHeader?: string;
  readonly logLevel: string;
}

/** `serve`: listen until asked to end (SIGTERM, SIGINT), then end within seconds. */
export async function serveCommand(flags: ServeFlags, terminal: Terminal): Promise<number> {
  if (flags.host.trim() === '') {
    throw new RequestError(400, {
      code: 'bad-option',
      field: '--host',
      message: '--host must be an address of this machine; received "": give 127.0.0.1, or 0.0.0.0 for all.',
    });
  }
  // Whoever reads the address may end us at once.
  const ended = terminal.askedToEnd();
  const serving = await serve({
    host: flags.host,
    port: wholeNumber('--port', flags.port, 0, 65_535),
    dataFolder: flags.data,
    logLevel: flags.logLevel,
    log: terminal.errors,
    clientHeader: flags.clientHeader === undefined ? undefined : headerName(flags.clientHeader),
    limits: { requestsPerMinute: wholeNumber('--rate', flags.rate, 1, 1_000_000) },
    ...(flags.workers === undefined ? {} : { workers: wholeNumber('--workers', flags.workers, 1, 64) }),
  });
  if (!isLoopback(flags.host)) {
    terminal.errors.write(
      `Warning: on ${flags.host} everyone on the network can reach this server, and it asks for no password; 127.0.0.1 keeps it to this machine.\n`,
    );
  }
  await terminal.print(`Strobewright is at ${serving.address}\n`);
  await ended;
  await serving.close();
  return 0;
}

function headerName(word: string): string {
  if (/^[A-Za-z0-9-]{1,60}$/.test(word)) return word;
  throw new RequestError(400, {
    code: 'bad-option',
    field: '--client-header',
    message: `--client-header must be the name of a header, letters, digits and hyphens; received ${shorten(word)}: write for example --client-header X-Forwarded-For.`,
  });
}
