import { s } from '../ui/dom.ts';
import { thresholdDash } from '../ui/tokens.ts';
import { acrossAxis, upAxis, type Quantity } from './axes.ts';
import type { Samples } from './decimate.ts';
import { placeLabels, textWidth, type LabelWish, type Placed } from './labels.ts';
import {
  drawBand,
  drawDefinitions,
  drawLines,
  drawStrobeZone,
  drawThresholdZone,
  type Band,
  type Line,
} from './marks.ts';
import { makeSpaces, type Margins, type Spaces, type TimeSpan, type ValueSpan } from './spaces.ts';

export interface TraceChartOptions {
  /** Unique on the page; patterns and the clip are named after it. */
  readonly id: string;
  readonly width: number;
  readonly height: number;
  /** Reader's text size over 16 px. */
  readonly em: number;
  /** Accessible name. */
  readonly name: string;
  readonly margins?: Margins;
  readonly time: TimeSpan;
  readonly value: ValueSpan;
  readonly quantity: Quantity;
  readonly lines: readonly Line[];
  readonly bands?: readonly Band[];
  readonly strobeZones?: readonly TimeSpan[];
  readonly thresholdZone?: ValueSpan;
  readonly labels?: readonly LabelWish[];
  /** s: thin upright lines at these instants, with a letter. */
  readonly cursors?: readonly { readonly time: number; readonly letter: string }[];
  readonly strobe?: number;
  readonly threshold?: number;
  /** V: thin dotted lines across, told in the chart's caption. */
  readonly levels?: readonly number[];
  readonly timeLabels?: boolean;
  /** px over the plot that the chart takes for the name of its upward axis, where its margin holds none. */
  readonly head?: number;
  /** Over the plot at an instant, in a frame, with words beside it. */
  readonly flag?: { readonly time: number; readonly text: string; readonly beside: string };
}

export interface TraceChart {
  readonly node: SVGSVGElement;
  readonly spaces: Spaces;
}

export const chartMargins = (em: number, timeLabels = true): Margins => ({
  top: 26 * em,
  right: 14 * em,
  bottom: timeLabels ? 26 * em : 10 * em,
  left: 44 * em,
});

/** Stages: spaces, ground, zones, axes, bands, lines (ZERO last), instants, labels. */
export function traceChart(options: TraceChartOptions): TraceChart {
  const { id, em, width, height, head = 0 } = options;
  const margins = options.margins ?? chartMargins(em, options.timeLabels ?? true);
  const spaces = makeSpaces({ width, height, margins }, options.time, options.value);
  const clip = { 'clip-path': `url(#${id}-clip)` };
  const bottom = height - margins.bottom;

  const ground = s('rect', {
    x: margins.left,
    y: margins.top,
    width: Math.max(0, width - margins.left - margins.right),
    height: Math.max(0, bottom - margins.top),
    class: 'ground',
  });
  const zones = s('g', clip);
  for (const zone of options.strobeZones ?? []) zones.append(drawStrobeZone(spaces, zone));
  if (options.thresholdZone) zones.append(drawThresholdZone(spaces, options.thresholdZone, id));

  const marks = s('g', clip);
  for (const band of options.bands ?? []) marks.append(drawBand(spaces, band, id));
  const zeroLast = [...options.lines].sort((a, b) => Number(a.style === 'zero') - Number(b.style === 'zero'));
  marks.append(...drawLines(spaces, zeroLast));

  const instants = s('g', clip);
  const upright = (time: number, name: string) =>
    s('line', { x1: spaces.x(time), x2: spaces.x(time), y1: margins.top, y2: bottom, class: name });
  if (options.strobe !== undefined) instants.append(upright(options.strobe, 'strobe-line'));
  if (options.threshold !== undefined) {
    const y = spaces.y(options.threshold);
    instants.append(
      s('line', {
        x1: margins.left,
        x2: width - margins.right,
        y1: y,
        y2: y,
        class: 'threshold-line',
        'stroke-dasharray': thresholdDash.join(' '),
      }),
    );
  }
  for (const level of options.levels ?? []) {
    const y = spaces.y(level);
    instants.append(
      s('line', { x1: margins.left, x2: width - margins.right, y1: y, y2: y, class: 'level-line' }),
    );
  }
  for (const cursor of options.cursors ?? []) {
    instants.append(
      upright(cursor.time, 'cursor-line'),
      s(
        'text',
        { x: spaces.x(cursor.time) + 4, y: margins.top + 13 * em, class: 'cursor-letter' },
        cursor.letter,
      ),
    );
  }

  const labels = placeLabels(spaces, options.labels ?? [], obstaclesOf(options), em).map((label, i) =>
    drawLabel(label, options.labels?.[i]?.style, width - label.x - 4, em),
  );
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
    instants,
    ...labels,
    options.flag && drawFlag(spaces, options.flag, em),
  );
  return { node, spaces };
}

/** A framed reading on top of its upright line, kept within the plot. */
function drawFlag(
  { x, width, margins }: Spaces,
  { time, text, beside }: NonNullable<TraceChartOptions['flag']>,
  em: number,
): SVGGElement {
  const frame = textWidth(text, em) + 12;
  const all = frame + (beside === '' ? 0 : 8 + 0.9 * textWidth(beside, em));
  const left = Math.min(Math.max(x(time) - frame / 2, margins.left), Math.max(margins.left, width - all));
  const base = margins.top - 6 * em;
  return s(
    'g',
    { class: 'strobe-flag' },
    s('rect', { x: left, y: margins.top - 20 * em, width: frame, height: 19 * em, rx: 3 }),
    s('text', { x: left + frame / 2, y: base, class: 'direct-label', 'text-anchor': 'middle' }, text),
    s('text', { x: left + frame + 8, y: base, class: 'chart-note' }, beside),
  );
}

/** A label that would run off the chart is set closer. */
function drawLabel(
  { x, y, text }: Placed,
  style: Line['style'] | undefined,
  room: number,
  em: number,
): SVGTextElement {
  const tight = textWidth(text, em) > room;
  const fitted = tight ? { textLength: room, lengthAdjust: 'spacingAndGlyphs' } : {};
  const name = style === undefined ? 'direct-label' : `direct-label label-${style}`;
  return s('text', { x, y, class: name, ...fitted }, text);
}

/** What a label must keep off: every line, the threshold, strobe, cursors and window edges. */
function obstaclesOf(options: TraceChartOptions): { lines: readonly Samples[]; uprights: readonly number[] } {
  const { time, thresholdZone: zone, strobe } = options;
  const level = (value: number): Samples => ({
    start: time.from,
    step: time.to - time.from,
    values: [value, value],
  });
  return {
    lines: [
      ...options.lines.map((line) => line.samples),
      ...(zone ? [zone.low, (zone.low + zone.high) / 2, zone.high].map(level) : []),
    ],
    uprights: [
      ...(strobe === undefined ? [] : [strobe]),
      ...(options.cursors ?? []).map((cursor) => cursor.time),
      ...(options.strobeZones ?? []).flatMap(({ from, to }) => [from, to]),
    ],
  };
}
