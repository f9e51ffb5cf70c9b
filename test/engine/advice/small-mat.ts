import type { Design } from '../../../engine/design/design.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { demo } from '../../demo-design.ts';

/** Sixteen cores, of which advice takes seconds. */
export const small = demo('minimal', {
  mat: { rows: 4, columns: 4 },
  selected: { row: 1, column: 2 },
  requirement: { sets: ['nominal'] },
});

/** Margin and width by the long way: a window of the changed design. */
export function measure(design: Design): { margin: number; width: number } {
  const { margin, intervals, inForce } = strobeWindow(design, { cases: 'nominal' });
  const here = intervals.find((i) => i.start <= inForce.time && inForce.time <= i.end);
  return {
    margin: Math.min(margin.one, margin.zero) - design.detector.uncertainty - design.detector.hysteresis / 2,
    width: here ? here.end - here.start : 0,
  };
}
