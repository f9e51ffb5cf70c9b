import { acrossAxis } from '../../charts/axes.ts';
import { chartSvg, drawGround } from '../../charts/chart-frame.ts';
import { makeSpaces } from '../../charts/spaces.ts';
import { s } from '../../ui/dom.ts';
import type { Points } from './distribution.ts';

export interface DotStripOptions extends Points {
  readonly name: string;
  readonly symbol: string;
  /** Beside the line at the target. */
  readonly targetText: string;
  readonly width: number;
  readonly em: number;
}

const DOT = 5;
/** Dots of one column that still stand apart. */
const ROOM = 14;

/** One dot a student, stacked where they lie together; right ones filled, a line at what was asked for. */
export function dotStrip({
  name,
  symbol,
  unit,
  points,
  target,
  targetText,
  width,
  em,
}: DotStripOptions): SVGSVGElement {
  const values = [...points.map(({ at }) => at), ...(target === undefined ? [] : [target])];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low || Math.abs(high) || 1) * 0.08;
  const bin = 2 * (DOT + 1) * em;
  const margins = { top: 26 * em, right: 16 * em, bottom: 28 * em, left: 16 * em };
  const columns = new Map<number, number>();
  const inner = width - margins.left - margins.right;
  const placed = points.map(({ at, right }) => {
    const column = Math.floor((((at - low + room) / (high - low + 2 * room)) * inner) / bin);
    const up = columns.get(column) ?? 0;
    columns.set(column, up + 1);
    return { column, up, right };
  });
  const tallest = Math.max(1, ...columns.values());
  const step = Math.min(bin, (ROOM * bin) / tallest);
  const height = margins.top + margins.bottom + tallest * step + 6 * em;
  const spaces = makeSpaces(
    { width, height, margins },
    { from: low - room, to: high + room },
    { low: 0, high: 1 },
  );
  const bottom = height - margins.bottom;
  return chartSvg(
    { name, width, height },
    drawGround(spaces),
    acrossAxis(spaces, { symbol, unit }, em),
    target !== undefined &&
      s('line', {
        x1: spaces.x(target),
        x2: spaces.x(target),
        y1: margins.top,
        y2: bottom,
        class: 'tally-target',
      }),
    target !== undefined && targetLabel(spaces.x(target), margins.top - 8 * em, width, targetText),
    ...placed.map(({ column, up, right }) =>
      s('circle', {
        cx: margins.left + (column + 0.5) * bin,
        cy: bottom - (up + 0.5) * step - 2,
        r: DOT * em,
        class: right ? 'tally-dot tally-right' : 'tally-dot',
      }),
    ),
  );
}

const targetLabel = (x: number, y: number, width: number, text: string): SVGTextElement =>
  s(
    'text',
    {
      x,
      y,
      class: 'direct-label',
      'text-anchor': x > width * 0.7 ? 'end' : x < width * 0.3 ? 'start' : 'middle',
    },
    text,
  );
