import type { CoreOrigin } from '../../engine/design/core.ts';
import type { Design } from '../../engine/design/design.ts';

/** Where the parameters of a core come from, in two or three words, by the best of them that is not all. */
export function coreSource({ core }: Pick<Design, 'core'>): string {
  const from = new Set<CoreOrigin>(Object.values(core.range).map((range) => range.from));
  if (from.has('measured'))
    return from.has('preset') || from.has('assumed') ? 'measured in part' : 'measured';
  if (from.has('handbook')) return 'from a handbook';
  if (from.has('preset')) return 'preset, not measured';
  return from.has('assumed') ? 'assumed, not measured' : 'as given';
}
