import type { Design } from '../design/design.ts';
import { CORNER_SIGMAS, strobeSearch, strobeUncertainties } from '../strobe/envelope.ts';

/**
 * Two boxes about strobe and threshold T, each k times its size. The one is (constant + share T) high either way and
 * `guard` long: the margin that is asked for, within aperture and jitter. The other is (bare + share T) high and `width`
 * long: the window that is asked for. Volts and seconds.
 */
export interface Box {
  readonly constant: number;
  readonly bare: number;
  readonly share: number;
  readonly guard: number;
  readonly width: number;
  readonly delay: number;
}

/** What is not known of threshold and strobe at the corners, and what is asked for on top. */
export function boxOf(design: Design): Box {
  const { threshold: bare, guard, delay } = strobeUncertainties(design);
  const { tolerances, requirement } = design;
  const atCorners = guard + CORNER_SIGMAS * tolerances.strobe;
  return {
    bare,
    constant: bare + requirement.margin,
    share: CORNER_SIGMAS * tolerances.threshold,
    guard: atCorners,
    width: atCorners + requirement.width / 2,
    delay,
  };
}

/** s of a trace after which no strobe that may be chosen sees anything: nothing later is worth a run. */
export function seenUntil(design: Design): number {
  const { delay, guard } = boxOf(design);
  return strobeSearch(design).end - delay + guard;
}
