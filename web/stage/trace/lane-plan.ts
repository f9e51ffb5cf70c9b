import type { Margins } from '../../charts/spaces.ts';
import type { Box } from '../../ui/mount.ts';

/** px of every lane; 0: folded to nothing. */
export interface LanePlan {
  readonly signal: number;
  readonly causes: number;
  readonly detector: number;
  readonly currents: number;
  readonly cycle: number;
}

/** What stands beside the lanes: head, gaps, the axis under the currents. */
const BESIDE = 84;
const LEAST_SIGNAL = 200;

/**
 * Heights at which the trace fills its place without scrolling: the signal takes what the others leave; where that
 * is too little the currents go first, then the causes. `fixed`: the page scrolls, and heights are given.
 */
export function planLanes({ height, em }: Pick<Box, 'height' | 'em'>, fixed: number | undefined): LanePlan {
  const cycle = 26 * em;
  const detector = 30 * em;
  if (fixed !== undefined)
    return {
      signal: fixed * em,
      causes: fixed >= 300 ? 96 * em : 74 * em,
      detector,
      currents: 56 * em,
      cycle,
    };
  const room = height - BESIDE * em - cycle - detector;
  const large = room > 640 * em;
  const causes = (large ? 140 : 102) * em;
  const currents = (large ? 96 : 64) * em;
  if (room - causes - currents >= LEAST_SIGNAL * em)
    return { signal: room - causes - currents, causes, detector, currents, cycle };
  if (room - causes >= LEAST_SIGNAL * em)
    return { signal: room - causes, causes, detector, currents: 0, cycle };
  return { signal: Math.max(LEAST_SIGNAL * em, room), causes: 0, detector, currents: 0, cycle };
}

/** All lanes share one gutter, so that their times stand over each other. */
export const laneMargins = (em: number, { top = 6, bottom = 4 } = {}): Margins => ({
  top: top * em,
  right: 2,
  bottom: bottom * em,
  left: 52 * em,
});
