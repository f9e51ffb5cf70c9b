import type { Design } from '../../engine/design/design.ts';
import { productTraces } from '../engine/strobe/full-product.ts';

/** What a box of size k leaves free over the whole product of cases: V, negative where a trace is inside. */
export type Room = readonly { readonly size: number; readonly room: number }[];

/**
 * Boxes of these sizes about a strobe (s) and threshold (V), by the words of the design alone: what is not known of the
 * threshold (two standard deviations of its tolerance, uncertainty, half the hysteresis) and, in the first box, the margin
 * asked for, high either way; half the aperture, three jitters and two standard deviations of the strobe, and, in the second
 * box, half the window asked for, long either way. No ONE may come under a box and no ZERO above it.
 */
export function roomOfBoxes(
  design: Design,
  strobe: number,
  threshold: number,
  sizes: readonly number[],
): { readonly rooms: Room; readonly runs: number } {
  const { detector, tolerances, requirement } = design;
  const unknown = detector.uncertainty + detector.hysteresis / 2 + 2 * tolerances.threshold * threshold;
  const blurred = design.strobe.aperture / 2 + 3 * design.strobe.jitter + 2 * tolerances.strobe;
  const boxes = [
    { high: unknown + requirement.margin, long: blurred },
    { high: unknown, long: blurred + requirement.width / 2 },
  ];
  const rooms = sizes.map((size) => ({ size, room: Infinity }));
  const open: Design = { ...design, strobe: { ...design.strobe, time: undefined } };
  let runs = 0;
  for (const { bit, at, step } of productTraces(open)) {
    runs++;
    for (const found of rooms)
      for (const { high, long } of boxes) {
        const reach = found.size * long;
        const places = Math.max(1, Math.ceil((2 * reach) / step));
        for (let i = 0; i <= places; i++) {
          const value = at(strobe - reach + (2 * reach * i) / places);
          const free = (bit === 1 ? value - threshold : threshold - value) - found.size * high;
          found.room = Math.min(found.room, free);
        }
      }
  }
  return { rooms, runs };
}
