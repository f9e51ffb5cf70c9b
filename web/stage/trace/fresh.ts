import type { Design } from '../../../engine/design/design.ts';
import type { FirstTrace } from '../../model/run.ts';
import type { Page } from '../../state/page.ts';
import type { Fresh } from './main-data.ts';

/** The design's own reads where no analysis of it is at hand. */
export function freshOf({ atoms, now }: Page): Fresh | undefined {
  const run = now.run.value;
  const judged = now.judged.value;
  if (run && !now.runIsOld.value) return judged?.one === run.one && judged.ensemble ? undefined : run;
  const first = atoms.first.value;
  const design = now.design.value;
  return first && design && first.key === now.physics.value ? freshFrom(first.value, design) : undefined;
}

const freshFrom = ({ bit, trace }: FirstTrace, design: Design): Fresh => ({
  design,
  one: bit === 1 ? trace : undefined,
  zero: bit === 0 ? trace : undefined,
});
