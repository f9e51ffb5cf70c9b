/** In how many sections a core counts at most. */
export const PLACES = 4;

/** Where one core counts: so many sections with a share in each. One of these serves core after core. */
export interface Places {
  count: number;
  readonly section: Int32Array;
  readonly share: Float64Array;
}

/** Sections of one wire, or of one half, in places of cores: their borders, and the middle of each. */
export interface Cut {
  readonly bounds: readonly number[];
  readonly middles: readonly number[];
}

export const makePlaces = (): Places => ({
  count: 0,
  section: new Int32Array(PLACES),
  share: new Float64Array(PLACES),
});

export const cutAt = (bounds: readonly number[]): Cut => ({
  bounds,
  middles: bounds.slice(1).map((to, k) => (bounds[k]! + to) / 2),
});

function addShare(places: Places, section: number, share: number): void {
  for (let i = 0; i < places.count; i++)
    if (places.section[i] === section) {
      places.share[i]! += share;
      return;
    }
  places.section[places.count] = section;
  places.share[places.count++] = share;
}

/** The section that borders on section k at a place of it; -1: the place lies within. */
function neighbourAt({ bounds }: Cut, k: number, at: number): number {
  if (k > 0 && Math.abs(bounds[k]! - at) < 1e-9) return k - 1;
  return k + 2 < bounds.length && Math.abs(bounds[k + 1]! - at) < 1e-9 ? k + 1 : -1;
}

/**
 * Finds where a core at place `at` counts, the section k that holds it first. A core on the border of two counts half as of
 * either, so that a wire seen from its other end is the same wire.
 */
export function findPlaces(places: Places, cut: Cut, k: number, at: number): void {
  places.count = 0;
  const neighbour = neighbourAt(cut, k, at);
  if (neighbour < 0) return addSharesAround(places, cut, k, at, 1);
  addSharesAround(places, cut, k, at, 1 / 2);
  addSharesAround(places, cut, neighbour, at, 1 / 2);
}

/**
 * Adds `part` of a core at place `at`, held by section k, in shares to that section and its neighbours. They sum to one, their
 * mean place is the core's and their spread (second moment) is a twelfth of the section squared: then a wave that the
 * core's EMF sends out along a ladder with averaged capacitance differs from that of a point by the third order of
 * the section's length only. A share may be a little below zero. In the first and last section the mean place alone
 * is kept.
 */
function addSharesAround(
  places: Places,
  { bounds, middles }: Cut,
  k: number,
  at: number,
  part: number,
): void {
  const last = middles.length - 1;
  const size = bounds[k + 1]! - bounds[k]!;
  const middle = middles[k]!;
  const x = at - middle;
  // A section of one core is that core.
  if (last === 0 || size < 1.5) return addShare(places, k, part);
  if (k === 0 || k === last) {
    const other = k === 0 ? 1 : last - 1;
    const share = x / (middles[other]! - middle);
    addShare(places, k, part * (1 - share));
    return addShare(places, other, part * share);
  }
  const before = middle - middles[k - 1]!;
  const after = middles[k + 1]! - middle;
  const spread = (size * size) / 12 + x * x;
  const next = (spread + before * x) / (after * (before + after));
  const previous = (spread - after * x) / (before * (before + after));
  addShare(places, k, part * (1 - previous - next));
  addShare(places, k - 1, part * previous);
  addShare(places, k + 1, part * next);
}
