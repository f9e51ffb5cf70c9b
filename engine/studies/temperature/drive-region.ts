import { END_OF_RANGE } from './temperature-words.ts';
import type { Patch } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { inputPatches, plannedInput } from '../shared/inputs.ts';
import type { Reading } from '../shared/reading.ts';
import { scanLine } from '../shared/trace-edge.ts';

/**
 * Temperature with and without drives that track it, with a fixed strobe and one that tracks; and the region of
 * drive against temperature that works, bounded by false ZEROs below and disturbed ZEROs above, as Törnquist drew
 * it (Elteknik 2, 1959, pp. 97-98).
 */

const DRIVE = ['drive.x', 'drive.y', 'inhibit'];

/** All currents times a factor. */
export function drivePatches(design: Design, factor: number): Patch[] {
  return DRIVE.flatMap((key) => {
    const input = plannedInput(key);
    const { x, y, inhibit } = design.drive;
    const nominal = key === 'inhibit' ? inhibit.amplitude : (key === 'drive.x' ? x : y).readAmplitude;
    return inputPatches(input, design, nominal * factor);
  });
}

/** The longest passing stretch of a scanned line; its ends are edges or the ends of the line. */
export function widestPass(
  line: ReturnType<typeof scanLine>,
  low: number,
  high: number,
): { readonly low: number; readonly high: number } | undefined {
  const bounds = [low, ...line.edges.map((edge) => edge.x), high];
  let passing = line.samples[0]!.pass;
  let best: { low: number; high: number } | undefined;
  for (let i = 0; i + 1 < bounds.length; i++) {
    const [from, to] = [bounds[i]!, bounds[i + 1]!];
    if (passing && to - from > (best ? best.high - best.low : 0)) best = { low: from, high: to };
    passing = !passing;
  }
  return best;
}

/** Reason of the failing reading nearest outside an end. */
export function whyOutside(readings: ReadonlyMap<number, Reading>, end: number, side: 1 | -1): string {
  let nearest: { readonly distance: number; readonly reason: string } | undefined;
  for (const [factor, reading] of readings) {
    const distance = (factor - end) * side;
    if (!reading.pass && distance >= 0 && (!nearest || distance < nearest.distance))
      nearest = { distance, reason: reading.reason };
  }
  return nearest?.reason ?? END_OF_RANGE;
}
