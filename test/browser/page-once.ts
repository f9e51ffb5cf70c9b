import { rm } from 'node:fs/promises';
import { buildPage, BUILT_PAGE } from './page-server.ts';

/** Builds the page once for all browser tests of a run; the workers inherit where it lies. */
export async function setup(): Promise<() => Promise<void>> {
  const folder = await buildPage();
  process.env[BUILT_PAGE] = folder;
  return () => rm(folder, { recursive: true });
}
