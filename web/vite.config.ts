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

/**
 * What the page does not call of the engine stays out of its first files and of its workers: a module of the engine
 * does nothing but define.
 */
const treeshake = { moduleSideEffects: [{ test: /\/engine\//, sideEffects: false }] };

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: './',
  plugins: [tokensPlugin()],
  worker: { format: 'es', rolldownOptions: { treeshake } },
  build: {
    outDir: fileURLToPath(new URL('../dist/web', import.meta.url)),
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    rolldownOptions: { treeshake },
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1500,
  },
});
