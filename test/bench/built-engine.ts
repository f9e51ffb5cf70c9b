import { pathToFileURL } from 'node:url';
import { inPackage } from '../../server/package-root.ts';

/**
 * The engine as it ships, compiled: vite's runner, in which the bench itself runs, would rewrite every import into a
 * look-up and slow the inner loops by a tenth to a quarter. A plain `import` here would be rewritten too.
 */
// oxlint-disable-next-line typescript/no-implied-eval
const importUntouched = new Function('address', 'return import(address)') as (
  address: string,
) => Promise<unknown>;

const compiled = (file: string): Promise<unknown> =>
  importUntouched(pathToFileURL(inPackage('dist', 'engine', file)).href);

export const engine = {
  ...((await compiled('index.js')) as typeof import('../../engine/index.ts')),
  ...((await compiled('export/serialise.js')) as typeof import('../../engine/export/serialise.ts')),
  ...((await compiled('strobe/envelope.js')) as typeof import('../../engine/strobe/envelope.ts')),
  ...((await compiled('strobe/window-at.js')) as typeof import('../../engine/strobe/window-at.ts')),
};
