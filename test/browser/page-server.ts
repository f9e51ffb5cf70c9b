import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join, normalize, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/** The page as built for any static host, on a port of its own, under the strictest policy that it must bear. */
export interface PageServer {
  readonly url: string;
  readonly folder: string;
  /** What is served in the place of a file, by its name. */
  readonly instead: Map<string, string>;
  close(): Promise<void>;
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
};

const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "worker-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** Names the folder of the page that all browser tests of one run share. */
export const BUILT_PAGE = 'BUILT_PAGE';

/** Builds the page as it stands into a new folder, which whoever asks removes again. */
export async function buildPage(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'strobewright-page-'));
  const configFile = fileURLToPath(new URL('../../web/vite.config.ts', import.meta.url));
  await build({
    configFile,
    configLoader: 'runner',
    logLevel: 'error',
    build: { outDir: folder, emptyOutDir: true },
  });
  return folder;
}

/**
 * Serves the page built once for the run of the tests (`page-once.ts`); outside such a run it is built here.
 * @param under The folder of the host in which the page lies, with a stroke at either end.
 */
export async function servePage(under = '/'): Promise<PageServer> {
  const built = process.env[BUILT_PAGE];
  const folder = built ?? (await buildPage());
  const instead = new Map<string, string>();
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://page').pathname;
    const name = path.startsWith(under) ? path.slice(under.length) || 'index.html' : '..';
    const file = normalize(join(folder, name));
    if (!file.startsWith(folder + sep) || !existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, {
      'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
      'content-security-policy': POLICY,
    });
    void Promise.resolve(instead.get(name) ?? readFile(file)).then((content) => response.end(content));
  });
  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}${under}`,
    folder,
    instead,
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => {
        server.close(resolve);
      });
      if (built === undefined) await rm(folder, { recursive: true });
    },
  };
}
