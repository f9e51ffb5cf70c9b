import { applyPatches, type Json, type Patch } from '../../base/json-patch.ts';
import { predictCost } from '../../estimates/cost.ts';
import type { StudyTools } from './shape.ts';

/** Class-steps of one run of a raw design with patches (cost.ts), from above; 0 where it cannot be built, for then nothing runs. */
export function runWork(raw: Json, patches: readonly Patch[], { checkDesign }: StudyTools): number {
  let design;
  try {
    design = checkDesign(applyPatches(raw, patches));
  } catch {
    return 0;
  }
  return predictCost(design).work;
}
