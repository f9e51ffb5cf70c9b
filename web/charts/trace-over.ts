import { s } from '../ui/dom.ts';
import { thresholdDash } from '../ui/tokens.ts';
import type { Samples } from './decimate.ts';
import { type createLabelPlacer, type Placed } from './labels.ts';
import { textWidth } from './label-width.ts';
import { drawStrobeZone, drawThresholdZone, type Line } from './marks.ts';
import type { Spaces } from './spaces.ts';
import type { TraceChartOptions } from './trace-options.ts';

type PlaceLabels = ReturnType<typeof createLabelPlacer>;

/** What lies under the lines and moves with strobe and threshold: the window and the threshold's band. */
export function drawZones(
  spaces: Spaces,
  { id, strobeZones, thresholdZone }: TraceChartOptions,
): SVGElement[] {
  return [
    ...(strobeZones ?? []).map((zone) => drawStrobeZone(spaces, zone)),
    ...(thresholdZone ? [drawThresholdZone(spaces, thresholdZone, id)] : []),
  ];
}

/** What lies over the lines: strobe, threshold, levels, cursors, labels and the flag. */
export function drawOver(spaces: Spaces, options: TraceChartOptions, place: PlaceLabels): SVGElement[] {
  const { id, em, width, labels: wishes = [], thresholdZone: zone } = options;
  // A level is two equal values, made anew each time.
  const along = ({ values }: Samples): unknown => (values.length > 2 ? values : values[0]);
  const key = [
    spaces,
    em,
    zone?.low,
    zone?.high,
    ...options.lines.map(({ samples }) => along(samples)),
    ...wishes.flatMap(({ text, near, side, samples }) => [text, near, side, along(samples)]),
  ];
  const obstacles = { ...obstaclesOf(options), taken: options.taken?.(spaces) ?? [] };
  const labels = place(key, spaces, wishes, obstacles, em).map((label, i) =>
    drawLabel(label, wishes[i]?.style, width - label.x - 4, em),
  );
  return [
    s('g', { 'clip-path': `url(#${id}-clip)` }, ...drawInstants(spaces, options)),
    ...labels,
    ...(options.flag ? [drawFlag(spaces, options.flag, em)] : []),
  ];
}

function drawInstants(spaces: Spaces, options: TraceChartOptions): SVGElement[] {
  const { em, width, height } = options;
  const { margins } = spaces;
  const upright = (time: number, name: string) =>
    s('line', {
      x1: spaces.x(time),
      x2: spaces.x(time),
      y1: margins.top,
      y2: height - margins.bottom,
      class: name,
    });
  const across = (value: number, name: string, dash: { readonly 'stroke-dasharray'?: string } = {}) => {
    const y = spaces.y(value);
    return s('line', { x1: margins.left, x2: width - margins.right, y1: y, y2: y, class: name, ...dash });
  };
  const letter = (time: number, text: string) =>
    s('text', { x: spaces.x(time) + 4, y: margins.top + 13 * em, class: 'cursor-letter' }, text);
  const { strobe, threshold, levels = [], cursors = [] } = options;
  return [
    ...(strobe === undefined ? [] : [upright(strobe, 'strobe-line')]),
    ...(threshold === undefined
      ? []
      : [across(threshold, 'threshold-line', { 'stroke-dasharray': thresholdDash.join(' ') })]),
    ...levels.map((level) => across(level, 'level-line')),
    ...cursors.flatMap((cursor) => [upright(cursor.time, 'cursor-line'), letter(cursor.time, cursor.letter)]),
  ];
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
