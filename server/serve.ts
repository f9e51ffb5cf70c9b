import { once } from 'node:events';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { createApp } from './app.ts';
import { clientOf } from './client-of.ts';
import { createHttpServer } from './http-server.ts';
import { createJobStore } from './jobs.ts';
import type { Limits } from './limits.ts';
import { LIMITS } from './limits.ts';
import { createLogger } from './logger.ts';
import { RequestError } from './request-error.ts';
import { openSavedFiles } from './saved-files.ts';
import { createWorkerPool } from './worker-pool.ts';

export interface ServeOptions {
  readonly host: string;
  /** 0: any free port. */
  readonly port: number;
  readonly dataFolder: string;
  /** Threads for studies, fits and diagnoses; two more are kept for single runs. */
  readonly workers?: number;
  /** Header in which a trusted proxy names the client; default: the address of the connection. */
  readonly clientHeader?: string;
  readonly logLevel?: string;
  /** Where the log goes; default: standard error. */
  readonly log?: NodeJS.WritableStream;
  readonly limits?: Partial<Limits>;
  /** Another worker file, for tests. */
  readonly workerFile?: string;
}

export interface Serving {
  /** Where the page is. */
  readonly address: string;
  readonly server: Server;
  /** Stop listening, end the work, close what is open. */
  readonly close: () => Promise<void>;
}

export const isLoopback = (host: string): boolean => ['127.0.0.1', '::1', 'localhost'].includes(host);

/** Listen. Throws RequestError with one sentence when the address cannot be had. */
export async function serve(options: ServeOptions): Promise<Serving> {
  const limits: Limits = { ...LIMITS, ...options.limits };
  const logger = createLogger(options.logLevel ?? 'warn', options.log);
  const pool = {
    grace: limits.grace,
    filename: options.workerFile,
    onFault: (error: unknown) => logger.error({ err: error }, 'worker fault'),
  };
  // Two, of which one client has one: whoever comes beside a client with a long run is answered at once.
  const singles = createWorkerPool({
    ...pool,
    threads: 2,
    // Behind the thread that listens, which refuses and tells of its health however much is computed; before the jobs.
    niceness: 5,
    queue: limits.singleQueue,
    share: { working: 1, waiting: limits.singleShare },
    timeLimit: limits.singleTime,
  });
  const threads = options.workers ?? Math.max(2, availableParallelism());
  const workers = createWorkerPool({
    ...pool,
    threads,
    queue: Infinity,
    share: { long: Math.max(1, threads - 1) },
    niceness: 15,
    timeLimit: limits.jobTime,
  });
  const jobs = createJobStore(workers, limits, logger);
  const saved = (name: string, extension: 'json' | 'csv') =>
    openSavedFiles({
      folder: join(options.dataFolder, name),
      extension,
      names: limits.savedNames,
      versions: limits.savedVersions,
      onStrangers: (strangers) =>
        logger.warn({ strangers: strangers.slice(0, 10) }, leftAlone(name, strangers.length)),
    });
  const app = createApp({
    singles,
    jobs,
    limits,
    logger,
    designs: saved('designs', 'json'),
    captures: saved('captures', 'csv'),
    loopback: isLoopback(options.host),
    clientOf: clientOf(options.clientHeader),
  });
  // A proxy's connections are those of all its clients.
  const server = createHttpServer(app, options.clientHeader === undefined ? limits.connections : Infinity);
  const closePools = async (): Promise<void> => {
    await jobs.close();
    await Promise.all([singles.close(), workers.close()]);
  };
  try {
    server.listen(options.port, options.host);
    await once(server, 'listening');
  } catch (error) {
    await closePools();
    throw explainListen(error, options);
  }
  const { port } = server.address() as AddressInfo;
  const name = options.host.includes(':') ? `[${options.host}]` : options.host;
  return {
    address: `http://${name}:${port}`,
    server,
    close: async () => {
      const closed = new Promise((resolve) => server.close(resolve));
      server.closeIdleConnections();
      await closePools();
      setTimeout(() => server.closeAllConnections(), 2000).unref();
      await closed;
    },
  };
}

const leftAlone = (folder: string, count: number): string =>
  `The folder of saved ${folder} holds ${count} ${count === 1 ? 'entry' : 'entries'} that Strobewright did not make: left alone.`;

function explainListen(error: unknown, { host, port }: ServeOptions): unknown {
  const { code } = error as { code?: unknown };
  const message =
    code === 'EADDRINUSE'
      ? `Port ${port} on ${host} is in use by another program: give another with --port or PORT.`
      : code === 'EACCES'
        ? `Port ${port} may not be used by this user: give one above 1023 with --port or PORT.`
        : code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND'
          ? `${host} is not an address of this machine: give 127.0.0.1, or one that is, with --host.`
          : undefined;
  return message === undefined ? error : new RequestError(409, { code: 'cannot-listen', message });
}
