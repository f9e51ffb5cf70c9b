import type { Design } from '../../design/design.ts';
import { pulseInstants } from '../../drive/programme.ts';
import type { Laid } from './lay.ts';
import type { Seen } from './seen.ts';

/** Parts of a cycle that are judged separately. */
export const PARTS = ['edges', 'bell', 'tail', 'write'] as const;
export type Part = (typeof PARTS)[number];

/** s that an edge is felt before and after its pulse moves. */
const BEFORE = 5e-9;
const AFTER = 15e-9;
/** Samples that a part must have to be judged. */
const LEAST = 10;

/** Which part of the cycle an instant belongs to, s from the start of read. */
export function partOf(
  { drive, cycle }: Design,
  { x, y }: ReturnType<typeof pulseInstants>,
  t: number,
): Part {
  const lead = Math.max(drive.x.rise, drive.inhibit.lead + drive.inhibit.rise);
  const writeFrom = Math.min(x.writeOn, y.writeOn) - lead;
  if (t >= Math.min(writeFrom, cycle.period)) return 'write';
  const near = (middle: number, length: number): boolean =>
    t > middle - length / 2 - BEFORE && t < middle + length / 2 + AFTER;
  if (t < 0 || near(x.readOn, drive.x.rise) || near(y.readOn, drive.y.rise)) return 'edges';
  if (near(x.readOff, drive.x.fall) || near(y.readOff, drive.y.fall)) return 'edges';
  return t < Math.min(x.readOff, y.readOff) ? 'bell' : 'tail';
}

/** What is left of each part, the greatest over the captures: mean square over what is allowed. */
export function misfitByPart({ lies }: Laid, seen: readonly Seen[]): Partial<Record<Part, number>> {
  const greatest: Partial<Record<Part, number>> = {};
  lies.forEach(({ time, left }, k) => {
    const { healthy, isReference } = seen[k];
    if (isReference) return;
    const instants = pulseInstants(healthy);
    const sums: Record<Part, [number, number]> = { edges: [0, 0], bell: [0, 0], tail: [0, 0], write: [0, 0] };
    time.forEach((t, i) => {
      const sum = sums[partOf(healthy, instants, t)];
      sum[0] += left[i] ** 2;
      sum[1]++;
    });
    for (const part of PARTS) {
      const [square, count] = sums[part];
      if (count >= LEAST) greatest[part] = Math.max(greatest[part] ?? 0, square / count);
    }
  });
  return Object.fromEntries(PARTS.filter((p) => greatest[p] !== undefined).map((p) => [p, greatest[p]]));
}
