import { evaluatePoint, planStudy, summarise } from '../../../engine/studies/study.ts';
import type { PointResult, StudyKind, StudyResult } from '../../../engine/studies/shared/shape.ts';
import { statedWires } from '../../stated-wires.ts';

export const DESIGN = statedWires({
  name: 'a small mat',
  mat: { rows: 8, columns: 8, mats: 4 },
  detector: { threshold: '18 mV', uncertainty: '1 mV' },
});
/** A study, point by point in this process. */
export const run = (kind: StudyKind, options: object, design: object = DESIGN): StudyResult => {
  const plan = planStudy({ kind, design: design as never, options: options as never });
  return summarise(
    plan,
    plan.points.map((_, i) => evaluatePoint(plan, i)),
  );
};
export const value = (result: PointResult | undefined, key: string): number => Number(result?.values[key]);
