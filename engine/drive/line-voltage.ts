import { lineResistance } from '../mat/wire-at-temperature.ts';
import { atTemperature, greatestEmf } from '../core/model.ts';
import { driveLevels } from './at-temperature.ts';
import type { Design } from '../design/design.ts';
import type { EdgeShape } from '../design/drive.ts';

/** Greatest slope of an edge in amplitudes per edge time (derived from each shape). */
export function steepest(edge: EdgeShape): number {
  switch (edge.kind) {
    case 'linear':
      return 1;
    case 'raised-cosine':
      return Math.PI / 2;
    case 'exponential':
      return Math.log(9);
    case 'table':
      return Math.max(
        ...edge.points.slice(1).map(([t, i], k) => Math.abs(i - edge.points[k][1]) / (t - edge.points[k][0])),
      );
  }
}

/** Inductance of one drive line with the cores of all mats in series, H: each counted with its greater slope. */
export function lineInductance(design: Design, line: 'x' | 'y'): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const along = line === 'x' ? design.mat.columns : design.mat.rows;
  return design.drive[line].inductance + along * design.mat.mats * p.elasticKnee;
}

/** Does the line's current follow from its cores, so that data move it, or is it prescribed throughout? */
export const givesWay = (design: Design, line: 'x' | 'y'): boolean =>
  design.drive[line].source.kind === 'voltage' || mayReachLimit(design, line);

/** What the bound below leaves for cores that differ from the design's and for half-selected ones that move. */
const SPARE = 1.1;

/**
 * Can the cores and the line ask of a current source more than it gives: on the way up more than its compliance, on
 * the way down more than its clamp? From above, every part at its greatest at once (R I + L dI/dt + the peak of a
 * ONE in every mat), so that a line of which this says no never reaches a limit.
 */
export function mayReachLimit(design: Design, line: 'x' | 'y'): boolean {
  const d = design.drive[line];
  if (d.source.kind === 'voltage') return false;
  const p = atTemperature(design.core.parameters, design.temperature);
  const levels = driveLevels(design);
  const level = (of: 'x' | 'y'): number =>
    Math.max(levels[of].read, levels[of].write) * (1 + design.drive[of].overshoot.fraction);
  const inductive = lineInductance(design, line) * level(line) * steepest(d.edge);
  const switching = design.mat.mats * greatestEmf(p, level('x') + level('y'));
  const up = inductive / d.rise + level(line) * lineResistance(design, line) + switching;
  const down = inductive / d.fall + switching;
  return SPARE * up > d.compliance || SPARE * down > d.clamp;
}
