import { sampleAt, sampleRange, type Samples } from './decimate.ts';
import { textWidth } from './label-width.ts';
import type { Line } from './marks.ts';
import type { Spaces } from './spaces.ts';

/** Where a direct label sits, px; `y` is the baseline. */
export interface Placed {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

export interface LabelWish {
  readonly text: string;
  /** The line's own colour; undefined: ink. */
  readonly style?: Line['style'];
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

const crossesX = (x: number, box: Box): boolean => x >= box.left && x <= box.right;

/** px between places that are tried, and between points at which a line is looked at. */
const STRIDE = 6;
/** px from a line to its label. */
const CLEARANCE = 5;

/** px around a placed label that nothing else may cross. */
const boxOf = ({ x, y, text }: Placed, em: number): Box => ({
  left: x - 3,
  right: x + textWidth(text, em) + 3,
  top: y - 14 * em + 3,
  bottom: y + 4,
});

export interface Obstacles {
  readonly lines: readonly Samples[];
  /** s: times of upright lines. */
  readonly uprights: readonly number[];
  /** Texts that stand already. */
  readonly taken?: readonly Placed[];
}

/** Off all that may have moved since the label was placed. */
const isFree = (spaces: Spaces, box: Box, { uprights, taken = [] }: Obstacles, em: number): boolean =>
  !uprights.some((time) => crossesX(spaces.x(time), box)) &&
  !taken.some((other) => overlaps(box, boxOf(other, em)));

/**
 * The same placing again and again: labels stay where they are, whatever moves, until an upright line comes to cross
 * one of them or what else they were placed by has changed (`key`).
 */
export function createLabelPlacer(): (
  key: readonly unknown[],
  ...of: Parameters<typeof placeLabels>
) => readonly Placed[] {
  let kept: { readonly key: readonly unknown[]; readonly placed: readonly Placed[] } | undefined;
  return (key, spaces, wishes, obstacles, em) => {
    const same = kept?.key.length === key.length && key.every((part, i) => Object.is(part, kept!.key[i]));
    const free = same && kept!.placed.every((label) => isFree(spaces, boxOf(label, em), obstacles, em));
    if (!free) kept = { key, placed: placeLabels(spaces, wishes, obstacles, em) };
    return kept!.placed;
  };
}

/**
 * Places direct labels one after another beside their lines, inside the plot, off each other and off every line:
 * the wish first, then step by step away from it along the line, then on its other side.
 *
 * @param obstacles what labels keep off.
 */
export function placeLabels(
  spaces: Spaces,
  wishes: readonly LabelWish[],
  obstacles: Obstacles,
  em: number,
): readonly Placed[] {
  const { margins, width, height } = spaces;
  const taken: Box[] = [];
  const lineHeight = 14 * em;
  return wishes.map((wish) => {
    const labelWidth = textWidth(wish.text, em);
    const least = margins.left + 6;
    const most = Math.max(least, width - margins.right - labelWidth - 6);
    const start = spaces.x(wish.near ?? timeOfPeak(wish.samples, spaces)) - labelWidth / 2;
    let fallback: Placed | undefined;
    // Over a line rather than over another text.
    let overLine: Placed | undefined;
    for (const side of wish.side === 'above' ? [-1, 1] : [1, -1]) {
      for (const x of placesFrom(start, least, most)) {
        for (const away of [0, 14 * em, 28 * em]) {
          const y = baseline(spaces, wish.samples, x, x + labelWidth, side, lineHeight) + side * away;
          const box = boxOf({ x, y, text: wish.text }, em);
          fallback ??= { x, y, text: wish.text };
          const inside = box.top >= margins.top && box.bottom <= height - margins.bottom;
          if (!inside || taken.some((other) => overlaps(box, other))) continue;
          if (!isFree(spaces, box, obstacles, em)) continue;
          if (obstacles.lines.some((line) => lineCrosses(spaces, line, box))) {
            overLine ??= { x, y, text: wish.text };
            continue;
          }
          taken.push(box);
          return { x, y, text: wish.text };
        }
      }
    }
    const chosen = overLine ?? fallback!;
    taken.push(boxOf(chosen, em));
    return chosen;
  });
}

function placesFrom(start: number, least: number, most: number): number[] {
  const clamp = (x: number) => Math.min(Math.max(x, least), most);
  const places = [clamp(start)];
  for (let shift = STRIDE; shift < most - least; shift += STRIDE)
    places.push(clamp(start + shift), clamp(start - shift));
  return places;
}

function timeOfPeak(samples: Samples, spaces: Spaces): number {
  const [from, to] = spaces.x.domain() as [number, number];
  const [first, last] = sampleRange(samples, from, to);
  let best = first;
  for (let i = first; i < last; i++)
    if (Math.abs(samples.values[i]!) > Math.abs(samples.values[best]!)) best = i;
  return Math.min(Math.max(samples.start + best * samples.step, from), to);
}

/** px: just above the line's highest place (side −1) or below its lowest (side +1) over the label's width. */
function baseline(
  spaces: Spaces,
  line: Samples,
  left: number,
  right: number,
  side: number,
  lineHeight: number,
): number {
  const ys = heights(spaces, line, left, right);
  return side < 0 ? Math.min(...ys) - CLEARANCE : Math.max(...ys) + lineHeight + CLEARANCE - 4;
}

function heights(spaces: Spaces, line: Samples, left: number, right: number): number[] {
  const count = Math.ceil((right - left) / STRIDE);
  return Array.from({ length: count + 1 }, (_, i) =>
    spaces.y(sampleAt(line, spaces.x.invert(left + ((right - left) * i) / count))),
  );
}

/** Does a line pass through a box? Looked at every few px, steep stretches included. */
export function lineCrosses(spaces: Spaces, line: Samples, box: Box): boolean {
  const ys = heights(spaces, line, box.left, box.right);
  return ys.some((y, i) => {
    const next = ys[i + 1] ?? y;
    return Math.max(y, next) >= box.top && Math.min(y, next) <= box.bottom;
  });
}
