import { s } from '../ui/dom.ts';
import { acrossAxis, upAxis } from './axes.ts';
import type { Samples } from './decimate.ts';
import { createLabelPlacer } from './labels.ts';
import { drawBand, drawDefinitions, drawLines } from './marks.ts';
import { makeSpaces, type Margins, type Spaces } from './spaces.ts';
import type { TraceChartOptions } from './trace-options.ts';
import { drawOver, drawZones } from './trace-over.ts';

export interface TraceChart {
  readonly node: SVGSVGElement;
  readonly spaces: Spaces;
  /** Of what lies over the lines, emptied whenever the chart is drawn. */
  readonly over: SVGGElement;
}

export const chartMargins = (em: number, timeLabels = true): Margins => ({
  top: 26 * em,
  right: 14 * em,
  bottom: timeLabels ? 26 * em : 10 * em,
  left: 44 * em,
});

/** Draws a chart, or what of it has changed. */
export type DrawTrace = (options: TraceChartOptions) => TraceChart;

/** Stages: spaces, ground, zones, axes, bands, lines (ZERO last), instants, labels. */
export const traceChart = (options: TraceChartOptions): TraceChart => createTraceChart()(options);

interface Kept {
  readonly key: readonly unknown[];
  readonly chart: TraceChart;
  readonly zones: SVGGElement;
}

/**
 * A chart that is drawn again and again: while axes, bands and lines are what they were it keeps its node, and only
 * what moves with strobe and threshold is drawn anew.
 */
export function createTraceChart(): DrawTrace {
  let kept: Kept | undefined;
  const place = createLabelPlacer();
  return (options) => {
    const key = keyOf(options);
    const same = kept?.key.length === key.length && key.every((part, i) => Object.is(part, kept!.key[i]));
    if (!kept || !same) kept = { key, ...drawStill(options) };
    kept.zones.replaceChildren(...drawZones(kept.chart.spaces, options));
    kept.chart.over.replaceChildren(...drawOver(kept.chart.spaces, options, place));
    return kept.chart;
  };
}

/** All that the still part of a chart is drawn from; traces by the arrays that hold them. */
function keyOf(options: TraceChartOptions): readonly unknown[] {
  const { id, width, height, em, name, time, value, quantity, timeLabels, head } = options;
  const { top, right, bottom, left } = marginsOf(options);
  const of = ({ start, step, values }: Samples) => [start, step, values];
  return [
    id,
    width,
    height,
    em,
    name,
    time.from,
    time.to,
    value.low,
    value.high,
    timeLabels,
    head,
    quantity.symbol,
    quantity.unit,
    top,
    right,
    bottom,
    left,
    ...options.lines.flatMap(({ style, faint, samples }) => [style, faint, ...of(samples)]),
    ...(options.bands ?? []).flatMap(({ style, low, high }) => [style, ...of(low), ...of(high)]),
  ];
}

const marginsOf = ({ margins, em, timeLabels }: TraceChartOptions): Margins =>
  margins ?? chartMargins(em, timeLabels ?? true);

function drawStill(options: TraceChartOptions): Omit<Kept, 'key'> {
  const { id, em, width, height, head = 0 } = options;
  const margins = marginsOf(options);
  const spaces = makeSpaces({ width, height, margins }, options.time, options.value);
  const clip = { 'clip-path': `url(#${id}-clip)` };
  const ground = s('rect', {
    x: margins.left,
    y: margins.top,
    width: Math.max(0, width - margins.left - margins.right),
    height: Math.max(0, height - margins.bottom - margins.top),
    class: 'ground',
  });
  const [zones, marks, over] = [s('g', clip), s('g', clip), s('g')];
  for (const band of options.bands ?? []) marks.append(drawBand(spaces, band, id));
  const zeroLast = [...options.lines].sort((a, b) => Number(a.style === 'zero') - Number(b.style === 'zero'));
  marks.append(...drawLines(spaces, zeroLast));
  const node = s(
    'svg',
    {
      viewBox: `0 ${-head} ${width} ${height + head}`,
      width,
      height: height + head,
      role: 'img',
      'aria-label': options.name,
      class: head > 0 ? 'chart chart-headed' : 'chart',
    },
    drawDefinitions(spaces, id),
    ground,
    zones,
    acrossAxis(spaces, { symbol: 't', unit: 's' }, em, options.timeLabels ?? true),
    upAxis(spaces, options.quantity, em),
    marks,
    over,
  );
  return { chart: { node, spaces, over }, zones };
}
