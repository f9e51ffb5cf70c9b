import { RequestError } from '../request-error.ts';
import { isLoopback, serve } from '../serve.ts';

export interface ServeFlags {
  readonly host: string;
  readonly port: string;
  readonly data: string;
  readonly workers?: string;
  readonly logLevel: string;
}

/** `serve`: listen until SIGTERM or SIGINT, then end within seconds. */
export async function serveCommand(flags: ServeFlags): Promise<number> {
  const serving = await serve({
    host: flags.host,
    port: wholeNumber('--port', flags.port, 0, 65_535),
    dataFolder: flags.data,
    logLevel: flags.logLevel,
    ...(flags.workers === undefined ? {} : { workers: wholeNumber('--workers', flags.workers, 1, 64) }),
  });
  if (!isLoopback(flags.host)) {
    process.stderr.write(
      `Warning: on ${flags.host} everyone on the network can reach this server, and it asks for no password; 127.0.0.1 keeps it to this machine.\n`,
    );
  }
  process.stdout.write(`Strobewright is at ${serving.address}\n`);
  await new Promise<void>((resolve) => {
    process.once('SIGTERM', () => resolve());
    process.once('SIGINT', () => resolve());
  });
  await serving.close();
  return 0;
}

/** A whole number within limits, or one sentence. */
export function wholeNumber(option: string, text: string, low: number, high: number): number {
  const value = /^\d{1,10}$/.test(text) ? Number(text) : Number.NaN;
  if (value >= low && value <= high) return value;
  throw new RequestError(400, {
    code: 'bad-option',
    field: option,
    message: `${option} must be a whole number from ${low} to ${high}; received "${text.slice(0, 40)}": give one.`,
  });
}
