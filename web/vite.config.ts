import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { tokensCss } from './ui/tokens.ts';

/** Serves `virtual:tokens.css`, the custom properties generated from tokens.ts. */
function tokensPlugin(): Plugin {
  const id = 'virtual:tokens.css';
  return {
    name: 'tokens',
    resolveId: (source) => (source === id ? `\0${id}` : undefined),
    load: (source) => (source === `\0${id}` ? tokensCss() : undefined),
  };
}

/** Folders of the packages of which something is in the bundle, the workers' own bundles included. */
const packages = new Set<string>();

/** Notes whose code is taken in; the licences ask that their notices go with it. */
function noticesPlugin(emit: boolean): Plugin {
  return {
    name: 'licence-notices',
    generateBundle() {
      // Also of what the bundler could leave out again: a notice too many does no harm.
      for (const id of this.getModuleIds()) {
        const found = /^\0?(.*\/node_modules\/(?:@[^/]+\/)?[^/]+)\//u.exec(id);
        if (found !== null) packages.add(found[1]);
      }
      if (emit) this.emitFile({ type: 'asset', fileName: 'licences.txt', source: notices() });
    },
  };
}

function notices(): string {
  const texts = [...packages].sort().map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
      readonly [key: string]: string;
    };
    const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying|notice)/iu.test(entry));
    const text =
      file === undefined ? 'Its package holds no licence text.' : readFileSync(join(folder, file), 'utf8');
    return `${name} ${version} (${license})\n\n${text.trim()}\n`;
  });
  const own = readFileSync(new URL('../LICENSE', import.meta.url), 'utf8').trim();
  return [`Strobewright\n\n${own}\n`, ...texts].join(`\n${'-'.repeat(72)}\n\n`);
}

/** Puts the names of the build's files, and a mark of their content, in front of the worker that keeps them. */
function offlinePlugin(): Plugin {
  return {
    name: 'page-files',
    writeBundle({ dir = '.' }) {
      const names = readdirSync(dir, { recursive: true, encoding: 'utf8' })
        .map((name) => name.replaceAll('\\', '/'))
        .filter((name) => /^(?:index\.html|mark\.svg|from-disk\.js|assets\/.*)$/u.test(name))
        .sort();
      const mark = createHash('sha256');
      for (const name of names) mark.update(name).update(readFileSync(join(dir, name)));
      const worker = join(dir, 'service-worker.js');
      const text = readFileSync(worker, 'utf8');
      const build = mark.digest('hex').slice(0, 16);
      writeFileSync(
        worker,
        `const PAGE_FILES=${JSON.stringify(names)},PAGE_BUILD=${JSON.stringify(build)};\n${text}`,
      );
    },
  };
}

/**
 * What the page does not call of the engine stays out of its first files and of its workers: a module of the engine
 * does nothing but define.
 */
const treeshake = { moduleSideEffects: [{ test: /\/engine\//, sideEffects: false }] };

const inWeb = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: './',
  plugins: [tokensPlugin(), noticesPlugin(true), offlinePlugin()],
  worker: { format: 'es', plugins: () => [noticesPlugin(false)], rolldownOptions: { treeshake } },
  build: {
    outDir: fileURLToPath(new URL('../dist/web', import.meta.url)),
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    rolldownOptions: {
      treeshake,
      input: [inWeb('index.html'), inWeb('api/docs/index.html'), inWeb('shell/service-worker.ts')],
      output: {
        // A service worker keeps what lies below it, under one name for all builds.
        entryFileNames: ({ name }) =>
          name === 'service-worker' ? 'service-worker.js' : 'assets/[name]-[hash].js',
      },
    },
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1500,
  },
});
