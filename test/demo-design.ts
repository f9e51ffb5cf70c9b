import { readFileSync } from 'node:fs';
import { checkDesign } from '../engine/check/check-design.ts';
import type { Design } from '../engine/design/design.ts';

/** One of the demo designs by the name of its file, with whole parts of it replaced. */
export function demo(name: string, patch: object = {}): Design {
  const path = new URL(`../fixtures/designs/${name}.json`, import.meta.url);
  return checkDesign({ ...JSON.parse(readFileSync(path, 'utf8')), ...patch });
}
