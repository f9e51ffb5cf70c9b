import { LEAST_SPREAD, selectedBy } from '../fitting/fit-shapes.ts';
import type { Design } from '../design/design.ts';
import type { Direction } from './direction.ts';
import { REACH } from './knowledge.ts';

/**
 * How the selected core may differ from the others of its mat. Where a capture was taken at that address of a mat of that
 * size it is the same core; at any other address nothing was measured of it.
 */
export function ownCoreDirections({ mat, selected, tolerances }: Design): Direction[] {
  if (mat.rows * mat.columns === 1) return [];
  const own = (name: 'fluxFactor' | 'thresholdFactor', stated: number): Direction => {
    const spread = Math.max(stated, LEAST_SPREAD);
    return {
      name,
      kind: 'core',
      low: -REACH,
      high: REACH,
      middle: 0,
      spread: 1,
      at: (design, z) =>
        isThere(design, { mat, selected }) ? selectedBy(design, name, Math.exp(spread * z)) : design,
    };
  };
  return [own('fluxFactor', tolerances.coreFlux), own('thresholdFactor', tolerances.coreThreshold)];
}

const isThere = (design: Design, { mat, selected }: Pick<Design, 'mat' | 'selected'>): boolean =>
  design.mat.rows === mat.rows &&
  design.mat.columns === mat.columns &&
  design.selected.row === selected.row &&
  design.selected.column === selected.column;
