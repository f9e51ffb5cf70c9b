import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const CLI = `${ROOT}dist/server/cli.js`;
const LOCK = `${ROOT}dist/.building`;

/** Compiles engine and server if a source is newer; test files that run at the same time wait for one another. */
export async function ensureBuild(): Promise<void> {
  mkdirSync(`${ROOT}dist`, { recursive: true });
  for (let waited = 0; !takeLock(); waited++) {
    // Left by a run that was killed.
    if (waited > 600) rmdirSync(LOCK);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  try {
    const tsc = `${ROOT}node_modules/typescript/bin/tsc`;
    const { stdout } = spawnSync(process.execPath, [tsc, '-b', 'engine', 'server'], { cwd: ROOT });
    // Types are the business of `npm run typecheck`; here it is enough that there is something to run.
    if (!existsSync(CLI)) throw new Error(`engine and server do not compile:\n${stdout.toString()}`);
  } finally {
    rmdirSync(LOCK);
  }
}

function takeLock(): boolean {
  try {
    mkdirSync(LOCK);
    return true;
  } catch {
    return false;
  }
}
