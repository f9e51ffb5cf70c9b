import type { CoreOrigin } from '../../engine/design/core.ts';
import type { Design } from '../../engine/design/design.ts';

/** How far the parameters of a core are measured, by the best of them that is not all. */
export type CoreStanding = 'measured' | 'measuredInPart' | 'handbook' | 'preset' | 'assumed' | 'given';

export function coreStanding({ core }: Pick<Design, 'core'>): CoreStanding {
  const from = new Set<CoreOrigin>(Object.values(core.range).map((range) => range.from));
  if (from.has('measured')) return from.has('preset') || from.has('assumed') ? 'measuredInPart' : 'measured';
  if (from.has('handbook')) return 'handbook';
  if (from.has('preset')) return 'preset';
  return from.has('assumed') ? 'assumed' : 'given';
}

const IN_WORDS: Readonly<Record<CoreStanding, string>> = {
  measured: 'measured',
  measuredInPart: 'measured in part',
  handbook: 'from a handbook',
  preset: 'preset, not measured',
  assumed: 'assumed, not measured',
  given: 'as given',
};

/** The same in two or three words. */
export const coreSource = (design: Pick<Design, 'core'>): string => IN_WORDS[coreStanding(design)];
