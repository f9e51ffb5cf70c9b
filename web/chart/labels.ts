import { sampleAt, sampleRange, type Samples } from './decimate.ts';
import type { Spaces } from './spaces.ts';

/** Where a direct label sits, px; `y` is the baseline. */
export interface Placed {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

export interface LabelWish {
  readonly text: string;
  readonly samples: Samples;
  /** Above or below the line. */
  readonly side: 'above' | 'below';
  /** s: where the label would like to be; undefined: at the greatest magnitude in view. */
  readonly near?: number;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const overlaps = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

function timeOfPeak(samples: Samples, from: number, to: number): number {
  const [first, last] = sampleRange(samples, from, to);
  let best = first;
  for (let i = first; i < last; i++)
    if (Math.abs(samples.values[i]!) > Math.abs(samples.values[best]!)) best = i;
  return samples.start + best * samples.step;
}

/**
 * Places direct labels one after another beside their lines, inside the plot and off each other: the wish first,
 * then step by step away from it, along the line and then on its other side.
 */
export function placeLabels(spaces: Spaces, wishes: readonly LabelWish[], em: number): readonly Placed[] {
  const { x: time, y: value, margins, width, height } = spaces;
  const [from, to] = time.domain() as [number, number];
  const taken: Box[] = [];
  const charWidth = 7 * em;
  const lineHeight = 15 * em;
  return wishes.map((wish) => {
    const start = time(Math.min(Math.max(wish.near ?? timeOfPeak(wish.samples, from, to), from), to));
    const labelWidth = wish.text.length * charWidth;
    let fallback: Placed | undefined;
    for (const side of wish.side === 'above' ? [-1, 1] : [1, -1]) {
      for (let shift = 0; shift < width; shift += 12) {
        for (const direction of shift === 0 ? [1] : [1, -1]) {
          const x = Math.min(
            Math.max(start + direction * shift, margins.left + 4),
            width - margins.right - labelWidth - 4,
          );
          const lineY = boundY(
            spaces,
            extremeOver(wish.samples, time.invert(x), time.invert(x + labelWidth), side, value),
          );
          const y = side < 0 ? lineY - 6 : lineY + lineHeight;
          const box = { left: x - 4, right: x + labelWidth + 4, top: y - lineHeight + 3, bottom: y + 3 };
          const placed = { x, y, text: wish.text };
          fallback ??= placed;
          const inside = box.top >= margins.top - 2 && box.bottom <= height - margins.bottom;
          if (inside && !taken.some((other) => overlaps(box, other))) {
            taken.push(box);
            return placed;
          }
        }
      }
    }
    return fallback!;
  });
}

/** px: the line's highest (side −1) or lowest (side +1) place over a stretch of time. */
function extremeOver(samples: Samples, from: number, to: number, side: number, value: Spaces['y']): number {
  let extreme = side < 0 ? Infinity : -Infinity;
  for (let i = 0; i <= 8; i++) {
    const y = value(sampleAt(samples, from + ((to - from) * i) / 8));
    extreme = side < 0 ? Math.min(extreme, y) : Math.max(extreme, y);
  }
  return extreme;
}

const boundY = (spaces: Spaces, y: number): number =>
  Math.min(Math.max(y, spaces.margins.top), spaces.height - spaces.margins.bottom);
