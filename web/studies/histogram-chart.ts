import type { Histogram } from '../../engine/studies/shared/shape.ts';
import { acrossAxis, upAxis } from '../charts/axes.ts';
import { makeSpaces } from '../charts/spaces.ts';
import { hatchFailing } from './hatch.ts';
import { chartSvg, drawGround } from '../charts/chart-frame.ts';
import { s } from '../ui/dom.ts';

export interface HistogramOptions {
  readonly histogram: Histogram;
  /** The yield in words, over the passing side. */
  readonly caption: string;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  /** A draw of each bin to open, -1 where it is empty. */
  readonly draws: readonly number[];
  readonly onOpen: (draw: number) => void;
}

/** Counts of draws by margin: hatched where they fail, plain where they pass, a line at the limit. */
export function histogramChart(options: HistogramOptions): SVGSVGElement {
  const { histogram, caption, width, height, em, draws, onOpen } = options;
  const { edges, counts, limit } = histogram;
  const margins = { top: 46 * em, right: 16 * em, bottom: 30 * em, left: 46 * em };
  const spaces = makeSpaces(
    { width, height, margins },
    { from: edges[0]!, to: edges.at(-1)! },
    { low: 0, high: Math.max(1, ...counts) * 1.06 },
  );
  const { x, y } = spaces;
  const bottom = height - margins.bottom;
  const at = x(limit);
  return chartSvg(
    { name: histogram.label, width, height },
    hatchFailing('study-bar-fail', 6),
    drawGround(spaces),
    ...counts.map((count, i) => {
      const fails = (edges[i]! + edges[i + 1]!) / 2 < limit;
      const left = x(edges[i]!);
      const draw = draws[i]!;
      return s(
        'rect',
        {
          x: left + 0.5,
          y: y(count),
          width: Math.max(0.5, x(edges[i + 1]!) - left - 1),
          height: Math.max(0, bottom - y(count)),
          class: `bar ${fails ? 'bar-fail' : 'bar-pass'}${draw < 0 ? '' : ' opens'}`,
          ...(fails ? { fill: 'url(#study-bar-fail)' } : {}),
          ...(draw < 0 ? {} : { 'data-opens': draw, click: () => onOpen(draw) }),
        },
        draw >= 0 &&
          s('title', {}, `${count} draws; open draw ${draw}, the one with the least margin of these`),
      );
    }),
    s('line', { x1: at, x2: at, y1: margins.top, y2: bottom, class: 'study-nominal' }),
    at - margins.left > 60 * em &&
      s('text', { x: at - 8, y: margins.top - 8 * em, class: 'direct-label', 'text-anchor': 'end' }, 'fails'),
    s('text', { x: Math.max(at, margins.left) + 8, y: margins.top - 8 * em, class: 'direct-label' }, caption),
    acrossAxis(spaces, { symbol: 'margin', unit: histogram.unit }, em),
    upAxis(spaces, { symbol: 'draws', unit: '' }, em),
  );
}
