import type { Samples } from '../charts/decimate.ts';
import { lineCrosses } from '../charts/labels.ts';
import type { Spaces } from '../charts/spaces.ts';
import { s } from '../ui/dom.ts';
import {
  crossed,
  distance,
  flat,
  grown,
  overlaps,
  triesOf,
  type Box,
  type Named,
  type Try,
} from './label-places.ts';

/** px: a name that is nearer than this to its own line, and to no other, needs no leader. */
const NEAR = 9;

/**
 * The names of lines, each off every line and tied to its own by a thin leader wherever another comes near: which is
 * meant is then seen without knowing the colours.
 *
 * @param uprights s: strobe, window and the like, which no name crosses.
 */
export function leaderLabels(
  spaces: Spaces,
  lines: readonly Named[],
  uprights: readonly number[],
  level: number | undefined,
  em: number,
): SVGElement[] {
  const taken: Box[] = [];
  const obstacles = [
    ...lines.map(({ samples }) => samples),
    ...(level === undefined ? [] : [flat(spaces, level)]),
  ];
  return lines.flatMap((line, k) => {
    const others = lines.filter((_, i) => i !== k).map(({ samples }) => samples);
    const tries = triesOf(spaces, line, others, em).sort((a, b) => a.cost - b.cost);
    const off = ({ box }: Try): boolean =>
      !taken.some((other) => overlaps(box, other)) &&
      !obstacles.some((each) => lineCrosses(spaces, each, box));
    const free = (each: Try): boolean => off(each) && !crossed(spaces, each.box, uprights);
    // An upright through a name is the least that can be wrong with its place.
    const found = tries.find(free) ?? tries.find(off) ?? tries[0];
    if (!found) return [];
    taken.push(found.box);
    return drawName(spaces, line, others, found, em);
  });
}

function drawName(
  spaces: Spaces,
  line: Named,
  others: readonly Samples[],
  found: Try,
  em: number,
): SVGElement[] {
  const { box, anchor, end } = found;
  const around = grown(box, NEAR * em);
  const alone = !others.some((other) => lineCrosses(spaces, other, around));
  const text = s(
    'text',
    { x: box.left, y: box.bottom - 2 * em, class: `direct-label label-${line.style}` },
    line.label,
  );
  if (alone && distance(anchor, end) < NEAR * em) return [text];
  return [s('line', { x1: end.x, y1: end.y, x2: anchor.x, y2: anchor.y, class: 'label-leader' }), text];
}
