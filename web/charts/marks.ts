import { s } from '../ui/dom.ts';
import { beforeDash, currentDash, seriesStyle, thresholdDash, type Series } from '../ui/tokens.ts';
import { decimate, type Samples } from './decimate.ts';
import type { Spaces, TimeSpan, ValueSpan } from './spaces.ts';

type BeforeStyle = 'before-one' | 'before-zero';
/** Of a set wider than the nominal cases. */
type WideStyle = 'wide-one' | 'wide-zero';

/** A trace over time. */
export interface Line {
  /** A series of the palette, plain ink ('total', 'x', 'y'), what stood before the last change, or the edge of a wider set. */
  readonly style: Series | 'total' | 'x' | 'y' | BeforeStyle | WideStyle;
  readonly samples: Samples;
  /** Steps back, so that another stands out. */
  readonly faint?: boolean;
}

export interface Band {
  readonly style: 'one' | 'zero' | WideStyle;
  readonly low: Samples;
  readonly high: Samples;
}

const round = (value: number): number => Math.round(value * 10) / 10;

function pathPoints(spaces: Spaces, samples: Samples): string[] {
  const [from, to] = spaces.x.domain() as [number, number];
  const pixels = Math.ceil(spaces.width - spaces.margins.left - spaces.margins.right);
  const points = decimate(samples, from, to, pixels);
  const out: string[] = [];
  for (let i = 0; i < points.length; i += 2)
    out.push(`${round(spaces.x(points[i]!))},${round(spaces.y(points[i + 1]!))}`);
  return out;
}

/** Lines without a casing, so that they hide nothing of the bands beneath. */
const UNCASED: readonly Line['style'][] = [
  'zero',
  'total',
  'y',
  'measured',
  'before-one',
  'before-zero',
  'wide-one',
  'wide-zero',
];

/** All lines over all their casings in the ground colour, so that no casing erases a line that it crosses. */
export function drawLines(spaces: Spaces, lines: readonly Line[]): SVGGElement[] {
  const drawn = lines.map(({ style, samples, faint }) => ({
    style,
    faint,
    d: `M${pathPoints(spaces, samples).join('L')}`,
  }));
  const seen = drawn.filter(({ d }) => d !== 'M');
  const casings = seen
    .filter(({ style }) => !UNCASED.includes(style))
    .map(({ d }) => s('path', { d, class: 'casing' }));
  return [
    s('g', { class: 'casings' }, ...casings),
    ...seen.map(({ style, faint, d }) =>
      s(
        'g',
        { class: `line line-${style}${faint ? ' faint' : ''}` },
        s('path', { d, class: 'stroke', ...dashOf(style) }),
      ),
    ),
  ];
}

function dashOf(style: Line['style']): { 'stroke-dasharray'?: string } {
  if (style === 'total' || style === 'x' || style === 'wide-one') return {};
  if (style === 'wide-zero') return dashOf('zero');
  const dash =
    style === 'y'
      ? currentDash.y
      : style === 'before-one' || style === 'before-zero'
        ? beforeDash
        : seriesStyle[style].dash;
  return dash.length > 0 ? { 'stroke-dasharray': dash.join(' ') } : {};
}

export function drawBand(spaces: Spaces, band: Band, id: string): SVGGElement {
  const upper = pathPoints(spaces, band.high);
  const lower = pathPoints(spaces, band.low).reverse();
  if (upper.length === 0 || lower.length === 0) return s('g');
  const d = `M${[...upper, ...lower].join('L')}Z`;
  return s(
    'g',
    { class: `band band-${band.style}` },
    s('path', { d, class: 'wash' }),
    (band.style === 'one' || band.style === 'zero') && s('path', { d, fill: `url(#${id}-${band.style})` }),
  );
}

/** Patterns and the clip of one chart; `id` keeps charts on one page apart. */
export function drawDefinitions(spaces: Spaces, id: string): SVGDefsElement {
  const { margins, width, height } = spaces;
  const hatch = (name: string, size: number, shape: SVGElement, turn?: number) =>
    s(
      'pattern',
      {
        id: `${id}-${name}`,
        width: size,
        height: size,
        patternUnits: 'userSpaceOnUse',
        patternTransform: turn === undefined ? undefined : `rotate(${turn})`,
      },
      shape,
    );
  return s(
    'defs',
    {},
    s(
      'clipPath',
      { id: `${id}-clip` },
      s('rect', {
        x: margins.left,
        y: margins.top,
        width: Math.max(0, width - margins.left - margins.right),
        height: Math.max(0, height - margins.top - margins.bottom),
      }),
    ),
    hatch('one', 6, s('line', { y2: 6, class: 'hatch-one' }), 45),
    hatch('zero', 6, s('circle', { cx: 3, cy: 3, r: 0.9, class: 'dots-zero' })),
    hatch('threshold', 7, s('line', { y2: 7, class: 'hatch-threshold' }), -45),
  );
}

/** Strobe window: vertical, solid edges, neutral tint. */
export function drawStrobeZone(spaces: Spaces, zone: TimeSpan): SVGGElement {
  const { x: time, margins, height } = spaces;
  const [a, b] = [time(zone.from), time(zone.to)];
  const bottom = height - margins.bottom;
  return s(
    'g',
    { class: 'zone-strobe' },
    s('rect', {
      x: a,
      y: margins.top,
      width: Math.max(0.5, b - a),
      height: bottom - margins.top,
      class: 'tint',
    }),
    s('line', { x1: a, x2: a, y1: margins.top, y2: bottom, class: 'edge' }),
    s('line', { x1: b, x2: b, y1: margins.top, y2: bottom, class: 'edge' }),
  );
}

/** Threshold band: horizontal, dashed edges, hatch. */
export function drawThresholdZone(spaces: Spaces, zone: ValueSpan, id: string): SVGGElement {
  const { y: value, margins, width } = spaces;
  const [top, bottom] = [value(zone.high), value(zone.low)];
  const right = width - margins.right;
  const box = { x: margins.left, y: top, width: right - margins.left, height: Math.max(0.5, bottom - top) };
  const edge = (y: number) =>
    s('line', {
      x1: margins.left,
      x2: right,
      y1: y,
      y2: y,
      class: 'edge',
      'stroke-dasharray': thresholdDash.join(' '),
    });
  return s(
    'g',
    { class: 'zone-threshold' },
    s('rect', { ...box, class: 'tint' }),
    s('rect', { ...box, fill: `url(#${id}-threshold)` }),
    edge(top),
    edge(bottom),
  );
}
