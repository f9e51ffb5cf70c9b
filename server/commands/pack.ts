import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { buildPack, packFiles } from '../../engine/pack/build-pack.ts';
import { codeOf } from '../disk.ts';
import { packText } from '../print/pack-text.ts';
import { readDesign } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { refuseWrite, writeOutput } from './write-output.ts';

/** `pack`: what a design is built from, as a folder of files, or in short on standard output. */
export async function packCommand(
  path: string,
  options: { readonly output?: string },
  terminal: Terminal,
): Promise<number> {
  const pack = buildPack(await readDesign(path, terminal));
  const folder = options.output;
  if (folder !== undefined) {
    await mkdir(folder, { recursive: true }).catch((error: unknown) => {
      throw refuseWrite(folder, codeOf(error));
    });
    for (const [name, text] of Object.entries(packFiles(pack)))
      await writeOutput(text, join(folder, name), terminal);
  }
  await writeOutput(packText(pack, folder), undefined, terminal);
  return 0;
}
