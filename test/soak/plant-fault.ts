import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PlantedFault } from './planted-faults.ts';

/** The source of a fault's file with the fault in it. Throws one sentence naming the fault when its place is gone. */
export function plantFault({ name, file, from, to }: PlantedFault, root: string): string {
  const path = join(root, file);
  if (!existsSync(path))
    throw new Error(`Planted fault "${name}": there is no ${file}; name the file where its place is now.`);
  const sound = readFileSync(path, 'utf8');
  const places = sound.split(from).length - 1;
  if (places !== 1)
    throw new Error(
      `Planted fault "${name}": its text must stand once in ${file} and stands ${places} times; write it as the code is now: ${from}`,
    );
  if (from === to) throw new Error(`Planted fault "${name}" changes nothing.`);
  return sound.replace(from, () => to);
}
