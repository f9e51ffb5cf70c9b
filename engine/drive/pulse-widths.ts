import type { Design } from '../design/design.ts';
import { measuredPulse } from './measured-pulse.ts';

/** s between half-amplitude points: as measured, or the line's own, or that of the cycle. */
export function pulseWidth({ drive, cycle }: Design, line: 'x' | 'y', what: 'read' | 'write'): number {
  const d = drive[line];
  const table = d[what];
  if (table !== undefined) return measuredPulse(table).width;
  return what === 'read' ? (d.readWidth ?? cycle.readWidth) : (d.writeWidth ?? cycle.writeWidth);
}

/** s: the wider of the two lines' pulses; what follows waits for it. */
export const longestPulse = (design: Design, what: 'read' | 'write'): number =>
  Math.max(pulseWidth(design, 'x', what), pulseWidth(design, 'y', what));
