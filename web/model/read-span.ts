import type { Design } from '../../engine/design/design.ts';
import type { TimeSpan } from '../charts/spaces.ts';

/** What the charts show at first: the read and the pause after it, where strobes live. */
export function readSpan({ cycle: { period, readWidth, gap } }: Pick<Design, 'cycle'>): TimeSpan {
  return { from: 0, to: Math.min(readWidth + Math.min(gap, 0.6 * readWidth), period) };
}
