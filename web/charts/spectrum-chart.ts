import { scaleLog, type ScaleLogarithmic } from 'd3';
import { s } from '../ui/dom.ts';
import { seriesStyle, type Series } from '../ui/tokens.ts';
import { axisPrefix, withMinus } from './prefix.ts';
import { chartMargins } from './trace-chart.ts';

export interface SpectrumLine {
  readonly style: Series;
  readonly label: string;
  /** V s, at `frequency`. */
  readonly density: Float64Array;
}

export interface SpectrumChartOptions {
  readonly name: string;
  /** Hz, ascending from 0. */
  readonly frequency: Float64Array;
  readonly lines: readonly SpectrumLine[];
  /** Hz: upright lines with a name. */
  readonly marks: readonly { readonly at: number; readonly label: string }[];
  /** Hz shown. */
  readonly from: number;
  readonly to: number;
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** Decades shown below the greatest value. */
const DEPTH = 1e4;

/** Amplitude density against frequency, both logarithmic. */
export function spectrumChart(options: SpectrumChartOptions): SVGSVGElement {
  const { frequency, lines, from, to, width, height, em } = options;
  const margins = chartMargins(em);
  const bottom = height - margins.bottom;
  const inView = (values: Float64Array) =>
    values.filter((_, i) => frequency[i]! >= from && frequency[i]! <= to);
  const most = Math.max(1e-18, ...lines.map(({ density }) => Math.max(...inView(density))));
  const x = scaleLog([from, to], [margins.left, width - margins.right]);
  const y = scaleLog([most / DEPTH, most * 4], [bottom, margins.top]);
  const path = (density: Float64Array): string => {
    const points: string[] = [];
    for (let i = 0; i < density.length; i++) {
      const f = frequency[i]!;
      if (f < from || f > to) continue;
      points.push(`${x(f).toFixed(1)},${y(Math.max(density[i]!, most / DEPTH / 3)).toFixed(1)}`);
    }
    return points.length > 1 ? `M${points.join('L')}` : '';
  };
  return s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      'aria-label': options.name,
      class: 'chart',
    },
    s(
      'defs',
      {},
      s(
        'clipPath',
        { id: 'spectrum-clip' },
        s('rect', {
          x: margins.left,
          y: margins.top,
          width: Math.max(0, width - margins.left - margins.right),
          height: Math.max(0, bottom - margins.top),
        }),
      ),
    ),
    s('rect', {
      x: margins.left,
      y: margins.top,
      width: Math.max(0, width - margins.left - margins.right),
      height: Math.max(0, bottom - margins.top),
      class: 'ground',
    }),
    ...decades(x, from, to).map(([at, text]) =>
      s(
        'g',
        { transform: `translate(${x(at)},${bottom})` },
        s('line', { y2: 5, class: 'tick' }),
        x(at) < width - margins.right - 60 * em &&
          s('text', { y: 5 + 12 * em, class: 'tick-text', 'text-anchor': 'middle' }, text),
      ),
    ),
    axisName(width - margins.right, bottom + 5 + 12 * em, 'f', ` / ${axisPrefix(to).symbol}Hz`, 'end'),
    ...decades(y, most / DEPTH, most * 4).map(([at, text]) =>
      s(
        'g',
        { transform: `translate(${margins.left},${y(at)})` },
        s('line', { x2: -5, class: 'tick' }),
        s('text', { x: -9, dy: '0.32em', class: 'tick-text', 'text-anchor': 'end' }, text),
      ),
    ),
    axisName(2, margins.top - 9 * em, 'U', ` / ${axisPrefix(most).symbol}V s`, 'start'),
    s('line', { x1: margins.left, x2: margins.left, y1: margins.top, y2: bottom, class: 'axis-line' }),
    s('line', { x1: margins.left, x2: width - margins.right, y1: bottom, y2: bottom, class: 'axis-line' }),
    s(
      'g',
      { 'clip-path': 'url(#spectrum-clip)' },
      ...lines.map(({ style, density }) => {
        const d = path(density);
        const { dash } = seriesStyle[style];
        return s(
          'g',
          { class: `line line-${style}` },
          style === 'selected' && s('path', { d, class: 'casing' }),
          s('path', { d, class: 'stroke', 'stroke-dasharray': dash.length > 0 ? dash.join(' ') : undefined }),
        );
      }),
      ...options.marks
        .filter(({ at }) => at >= from && at <= to)
        .map(({ at }) =>
          s('line', { x1: x(at), x2: x(at), y1: margins.top, y2: bottom, class: 'strobe-line' }),
        ),
    ),
    ...lines.map(({ label, density }) => lineLabel(label, density)),
    ...options.marks
      .filter(({ at }) => at >= from && at <= to)
      .map(({ at, label }, i) => {
        const left = x(at) > width * 0.6;
        return s(
          'text',
          {
            x: x(at) + (left ? -6 : 6),
            y: bottom - (8 + 17 * i) * em,
            class: 'direct-label',
            'text-anchor': left ? 'end' : 'start',
          },
          label,
        );
      }),
  );

  /** At the left end, over the upper line or under the lower one, clear of both over the label's width. */
  function lineLabel(text: string, density: Float64Array): SVGTextElement {
    const reach = x.invert(margins.left + 8 + text.length * 7.4 * em);
    const heights = (values: Float64Array) =>
      [...values].flatMap((value, i) =>
        frequency[i]! >= from && frequency[i - 1]! <= reach ? [y(Math.max(value, most / DEPTH))] : [],
      );
    // Under it stand the names of the marks.
    const lowest = bottom - (8 + 17 * options.marks.length) * em;
    const first = frequency.findIndex((f) => f >= from);
    const upper = lines.every((other) => other.density[first]! <= density[first]!);
    const at = upper
      ? Math.min(...heights(density)) - 8 * em
      : Math.max(...lines.flatMap((line) => heights(line.density))) + 17 * em;
    return s(
      'text',
      {
        x: margins.left + 8,
        y: Math.min(Math.max(at, margins.top + 12 * em), lowest),
        class: 'direct-label',
      },
      text,
    );
  }
}

function decades(
  scale: ScaleLogarithmic<number, number>,
  from: number,
  to: number,
): (readonly [number, string])[] {
  const prefix = axisPrefix(scale.range()[0]! < scale.range()[1]! ? to : to / 2);
  const first = Math.ceil(Math.log10(from) - 1e-9);
  const last = Math.floor(Math.log10(to) + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, k) => {
    const at = 10 ** (first + k);
    return [at, withMinus(String(Number((at / prefix.factor).toPrecision(3))))] as const;
  });
}

const axisName = (x: number, y: number, symbol: string, rest: string, anchor: string): SVGTextElement =>
  s(
    'text',
    { x, y, class: 'axis-name', 'text-anchor': anchor },
    s('tspan', { 'font-style': 'italic' }, symbol),
    rest,
  );
