import type { Design } from '../design/design.ts';
import type { Direction } from './direction.ts';

/** Something computed of a design: numbers of one length; undefined where it has none. */
export type Compute = (design: Design) => Float64Array | undefined;

/**
 * How each number changes with each direction, per standard deviation: the secant between the ends of its range.
 * An end of which nothing can be computed is left out; a direction with neither moves nothing.
 */
export function slopesOf(
  design: Design,
  directions: readonly Direction[],
  base: Float64Array,
  compute: Compute,
): Float64Array[] {
  return directions.map(({ low, high, at }) => {
    const ends = [low, high].map((z) => {
      const found = isEnd(z) ? compute(at(design, z)) : undefined;
      return found === undefined ? { z: 0, values: base } : { z, values: found };
    }) as [End, End];
    const [under, over] = ends;
    const apart = over.z - under.z;
    return base.map((_, i) => (apart > 0 ? (over.values[i]! - under.values[i]!) / apart : 0));
  });
}

/** A range may end where the design stands. */
const isEnd = (z: number): boolean => z !== 0;

/** How often `slopesOf` computes something. */
export const endsAlong = (directions: readonly Direction[]): number =>
  directions.reduce((sum, { low, high }) => sum + [low, high].filter(isEnd).length, 0);

interface End {
  readonly z: number;
  readonly values: Float64Array;
}
