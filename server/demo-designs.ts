import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { inPackage } from './package-root.ts';

export interface DemoDesign {
  /** File name without `.json`: the word by which it is asked for. */
  readonly id: string;
  readonly name: string;
  readonly note: string;
  readonly design: unknown;
}

/** The invented designs that come with the project, by id. Read once; a client's words never reach a path. */
export function readDemoDesigns(folder = inPackage('fixtures', 'designs')): ReadonlyMap<string, DemoDesign> {
  const files = readdirSync(folder).filter((file) => file.endsWith('.json'));
  return new Map(
    files.sort().map((file) => {
      const design = JSON.parse(readFileSync(join(folder, file), 'utf8')) as { name?: string; note?: string };
      const id = file.slice(0, -'.json'.length);
      return [id, { id, name: design.name ?? id, note: design.note ?? '', design }];
    }),
  );
}
