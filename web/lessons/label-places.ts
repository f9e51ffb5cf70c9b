import { sampleAt, type Samples } from '../charts/decimate.ts';
import { textWidth } from '../charts/label-width.ts';
import type { Line } from '../charts/marks.ts';
import type { Spaces } from '../charts/spaces.ts';

/** A line of a picture with its name. */
export interface Named {
  readonly label: string;
  readonly style: Line['style'];
  readonly samples: Samples;
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}
interface Spot {
  readonly x: number;
  readonly y: number;
}
/** A place for a name: `anchor` on its own line; the less `cost`, px, the better. */
export interface Try {
  readonly box: Box;
  readonly anchor: Spot;
  readonly end: Spot;
  readonly cost: number;
}

/** Places along a line that are tried. */
const INSTANTS = 24;
/** px at a text size of 16, from a line to its name. */
const GAPS = [5, 18, 34, 52];
const ASIDE = [8, 24, 48];
const LETTER = 11;
/** px: what stands further apart than this is as good as what stands still further. */
const APART = 40;
/** px that a leader over another line counts as. */
const CROSSING = 80;
/** Every place for a name around its own line. */
export function triesOf(
  spaces: Spaces,
  { label, samples }: Named,
  others: readonly Samples[],
  em: number,
): Try[] {
  const { margins, width, height } = spaces;
  const [wide, high] = [textWidth(label, em), (LETTER + 3) * em];
  return anchorsOn(spaces, samples, others).flatMap(({ x, y, apart }) =>
    [-wide / 2, ...ASIDE.flatMap((by) => [by * em, -wide - by * em])].flatMap((aside) =>
      GAPS.flatMap((gap) => [y - gap * em - high, y + gap * em]).flatMap((top) => {
        const box = { left: x + aside, right: x + aside + wide, top, bottom: top + high };
        const inside =
          box.left >= margins.left + 2 &&
          box.right <= width - margins.right &&
          top >= margins.top &&
          box.bottom <= height - margins.bottom;
        if (!inside) return [];
        const anchor = { x, y };
        const end = nearestOf(box, anchor);
        const over = others.filter((other) => parted(spaces, other, anchor, end)).length;
        return [{ box, anchor, end, cost: distance(anchor, end) + CROSSING * over - apart }];
      }),
    ),
  );
}

/** Where a line can be taken hold of, with how far all others are from there, px. */
function anchorsOn(
  spaces: Spaces,
  samples: Samples,
  others: readonly Samples[],
): (Spot & { apart: number })[] {
  const [from, to] = spaces.x.domain() as [number, number];
  const { margins, height } = spaces;
  return Array.from({ length: INSTANTS }, (_, i) => from + ((i + 0.5) / INSTANTS) * (to - from)).flatMap(
    (time) => {
      const y = spaces.y(sampleAt(samples, time));
      if (y < margins.top || y > height - margins.bottom) return [];
      const apart = Math.min(APART, ...others.map((other) => Math.abs(spaces.y(sampleAt(other, time)) - y)));
      return [{ x: spaces.x(time), y, apart }];
    },
  );
}

/** Does a line pass between the two? */
function parted(spaces: Spaces, line: Samples, a: Spot, b: Spot): boolean {
  const side = ({ x, y }: Spot): number => Math.sign(y - spaces.y(sampleAt(line, spaces.x.invert(x))));
  return side(a) !== side(b);
}

/** Does an upright pass through it? */
export const crossed = (spaces: Spaces, { left, right }: Box, uprights: readonly number[]): boolean =>
  uprights.some((time) => spaces.x(time) >= left - 2 && spaces.x(time) <= right + 2);

/** A level line. */
export const flat = (spaces: Spaces, value: number): Samples => {
  const [from, to] = spaces.x.domain() as [number, number];
  return { start: from, step: to - from, values: [value, value] };
};

export const overlaps = (a: Box, b: Box): boolean =>
  a.left < b.right + 3 && b.left < a.right + 3 && a.top < b.bottom && b.top < a.bottom;

export const grown = ({ left, right, top, bottom }: Box, by: number): Box => ({
  left,
  right,
  top: top - by,
  bottom: bottom + by,
});

const within = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));
const nearestOf = ({ left, right, top, bottom }: Box, { x, y }: Spot): Spot => ({
  x: within(x, left, right),
  y: within(y, top, bottom),
});
export const distance = (a: Spot, b: Spot): number => Math.hypot(a.x - b.x, a.y - b.y);
