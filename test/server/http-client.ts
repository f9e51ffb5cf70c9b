import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import type { Server } from 'node:http';
import { request as httpRequest } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import type { AppOptions } from '../../server/app.ts';
import { createApp } from '../../server/app.ts';
import { clientOf } from '../../server/client-of.ts';
import { createHttpServer } from '../../server/http-server.ts';
import { createJobStore } from '../../server/jobs.ts';
import type { Limits } from '../../server/limits.ts';
import { LIMITS } from '../../server/limits.ts';
import { createLogger } from '../../server/logger.ts';
import { openSavedFiles } from '../../server/saved-files.ts';
import type { Runner } from '../../server/task.ts';

/** An answer as it came over the wire. */
export interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

export interface Sent {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
  /** Address from which it is sent, such as 127.0.0.2: another client. */
  readonly from?: string;
}

export interface TestServer {
  readonly port: number;
  readonly server: Server;
  /** Lines of the log. */
  readonly log: string[];
  ask(path: string, sent?: Sent): Promise<Reply>;
  postJson(path: string, value: unknown, headers?: Readonly<Record<string, string>>): Promise<Reply>;
  close(): Promise<void>;
}

export interface TestServerOptions {
  readonly runner: Runner;
  readonly jobRunner?: Runner;
  readonly limits?: Partial<Limits>;
  readonly loopback?: boolean;
  readonly dataFolder?: string;
  readonly pageFolder?: string;
  readonly clientHeader?: string;
}

/** The real app on a port of its own, with the runner given. */
export async function startTestServer(options: TestServerOptions): Promise<TestServer> {
  const log: string[] = [];
  const stream = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      log.push(chunk.toString());
      done();
    },
  });
  const limits: Limits = { ...LIMITS, requestsPerMinute: 1e9, ...options.limits };
  const logger = createLogger('debug', stream);
  const jobs = createJobStore(options.jobRunner ?? options.runner, limits, logger);
  const folder = options.dataFolder ?? mkdtempSync(join(tmpdir(), 'strobewright-data-'));
  const kept = { names: limits.savedNames, versions: limits.savedVersions };
  const context: AppOptions = {
    singles: options.runner,
    jobs,
    limits,
    logger,
    designs: openSavedFiles({ ...kept, folder: join(folder, 'designs'), extension: 'json' }),
    captures: openSavedFiles({ ...kept, folder: join(folder, 'captures'), extension: 'csv' }),
    loopback: options.loopback ?? true,
    clientOf: clientOf(options.clientHeader),
    pageFolder: options.pageFolder,
  };
  const server = createHttpServer(createApp(context), limits.connections);
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const ask = (path: string, sent: Sent = {}): Promise<Reply> => askPort(port, path, sent);
  return {
    port,
    server,
    log,
    ask,
    postJson: (path, value, headers = {}) =>
      ask(path, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json', ...headers },
        body: JSON.stringify(value),
      }),
    close: async () => {
      await jobs.close();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      if (options.dataFolder === undefined) rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** One request, any method, path and headers, as they stand. */
export function askPort(port: number, path: string, sent: Sent = {}): Promise<Reply> {
  return new Promise((resolve, reject) => {
    const { method = 'GET', headers = {}, body, from } = sent;
    const said = body !== undefined && headers['Transfer-Encoding'] === undefined;
    const length = said ? { 'Content-Length': String(Buffer.byteLength(body)) } : {};
    const request = httpRequest(
      {
        host: '127.0.0.1',
        localAddress: from,
        port,
        path,
        method,
        headers: { ...length, ...headers },
        agent: false,
      },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('error', reject);
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(chunks).toString('utf8'),
          }),
        );
      },
    );
    request.on('error', reject);
    request.end(body);
  });
}

/** A runner that answers every task with the same text: for tests of what lies around the calculation. */
export function constantRunner(text: string): Runner {
  return {
    threads: 1,
    run: async () => ({ body: new TextEncoder().encode(text) }),
    close: async () => {},
  };
}

/** As `askPort`; a single run that the server ended after its 30 s gets another try, as on a machine busy elsewhere. */
export async function askPatiently(...asked: Parameters<typeof askPort>): ReturnType<typeof askPort> {
  let answer = await askPort(...asked);
  for (let tries = 1; tries < 3 && answer.body.includes('"time-limit"'); tries++)
    answer = await askPort(...asked);
  return answer;
}
