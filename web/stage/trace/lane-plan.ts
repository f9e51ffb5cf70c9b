import type { Margins, TimeSpan } from '../../charts/spaces.ts';
import type { Box } from '../../ui/mount.ts';

/** px of every lane, the line of its title among them; 0: folded to that line. */
export interface LanePlan {
  readonly signal: number;
  readonly causes: number;
  readonly detector: number;
  readonly currents: number;
  readonly cycle: number;
}

/** What stands beside the lanes: head, gaps, the axis under the currents. */
const BESIDE = 78;
/** px for the head in one line; narrower it takes a second one, as high as this. */
const HEAD_ROOM = 520;
const SECOND_HEAD = 28;
const LEAST_SIGNAL = 200;
/** px of the line over a lane that holds its title. */
export const LANE_TITLE = 24;

/**
 * Heights at which the trace fills its place without scrolling: the signal takes what the others leave; where that
 * is too little the currents go first, then the causes. `fixed`: the page scrolls, and heights are given.
 */
export function planLanes({ width, height, em }: Box, fixed: number | undefined): LanePlan {
  const cycle = 26 * em;
  const detector = 54 * em;
  if (fixed !== undefined)
    return {
      signal: fixed * em,
      causes: (fixed >= 300 ? 120 : 98) * em,
      detector,
      currents: 70 * em,
      cycle,
    };
  const head = width < HEAD_ROOM * em ? SECOND_HEAD : 0;
  const room = height - (BESIDE + head) * em - cycle - detector;
  const large = room > 640 * em;
  const causes = (large ? 152 : 106) * em;
  const currents = (large ? 106 : 68) * em;
  if (room - causes - currents >= LEAST_SIGNAL * em)
    return { signal: room - causes - currents, causes, detector, currents, cycle };
  const folded = LANE_TITLE * em;
  if (room - causes - folded >= LEAST_SIGNAL * em)
    return { signal: room - causes - folded, causes, detector, currents: 0, cycle };
  return {
    signal: Math.max(LEAST_SIGNAL * em, room - 2 * folded),
    causes: 0,
    detector,
    currents: 0,
    cycle,
  };
}

/** All lanes share one gutter, so that their times stand over each other. */
export const laneMargins = (em: number, { top = 6, bottom = 4 } = {}): Margins => ({
  top: top * em,
  right: 2,
  bottom: bottom * em,
  left: 52 * em,
});

/** Times over the width of a lane: s <-> px from its left. */
export function laneTimes(
  span: TimeSpan,
  { width, em }: Pick<Box, 'width' | 'em'>,
): {
  x(time: number): number;
  time(x: number): number;
  readonly left: number;
  readonly right: number;
} {
  const { left, right: beside } = laneMargins(em);
  const right = Math.max(left + 1, width - beside);
  const perSecond = (right - left) / (span.to - span.from);
  return {
    x: (time) => left + (time - span.from) * perSecond,
    time: (x) => span.from + (x - left) / perSecond,
    left,
    right,
  };
}
