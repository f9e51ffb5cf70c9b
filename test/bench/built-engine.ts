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

export const engine = (await importUntouched(
  pathToFileURL(inPackage('dist', 'engine', 'index.js')).href,
)) as typeof import('../../engine/index.ts');
