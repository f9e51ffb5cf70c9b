import type { DesignProblem } from '../design/design-error.ts';
import { jsonPointer } from '../design/design-error.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import type { Design } from '../design/design.ts';
import { coreRules } from './rules-core.ts';
import { couplingRules, leadRules, wireRules } from './rules-coupling.ts';
import { cycleRules, edgeRules, sourceRules, trackingRules } from './rules-drive.ts';
import { measuredRules } from './rules-measured.ts';
import { addressRules, populatedRules, storedRules, windingRules } from './rules-mat.ts';

/**
 * Rules between fields: the core model's limits, what a winding needs, addresses inside the mat, pulses in order
 * and within the period, couplings that can be, a hole that takes the wires. `file` tells what was given from what was filled in.
 */
export function designRules(design: Design, file: ReadDesignFile): readonly DesignProblem[] {
  const edges = [...edgeRules(design, file), ...measuredRules(file)];
  const broken = [
    ...coreRules(design, file),
    ...windingRules(design, file),
    ...addressRules(design, file),
    ...populatedRules(design),
    ...storedRules(design, file),
    ...sourceRules(design, file),
    ...trackingRules(design),
    ...wireRules(design),
    ...couplingRules(design),
    ...leadRules(design),
    ...edges,
    // A crooked table has no half-amplitude point to measure a cycle by.
    ...(edges.length === 0 ? cycleRules(design) : []),
  ];
  return broken.map(({ path, sentence, limit }) => ({
    code: 'rule',
    field: jsonPointer(path),
    message: `${sentence}.`,
    limit,
  }));
}
