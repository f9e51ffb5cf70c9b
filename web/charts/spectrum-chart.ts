import { scaleLog, type ScaleLogarithmic } from 'd3';
import { s } from '../ui/dom.ts';
import { seriesStyle, type Series } from '../ui/tokens.ts';
import { chartSvg, drawGround, plotBox } from './chart-frame.ts';
import { axisPrefix, withMinus } from './prefix.ts';
import type { Margins } from './spaces.ts';
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

type LogScale = ScaleLogarithmic<number, number>;

/** Hz across and V s upward, both logarithmic, <-> px. */
interface SpectrumSpaces {
  readonly x: LogScale;
  readonly y: LogScale;
  readonly width: number;
  readonly height: number;
  readonly margins: Margins;
  /** V s, the greatest value in view. */
  readonly most: number;
}

/** Amplitude density against frequency, both logarithmic. */
export function spectrumChart(options: SpectrumChartOptions): SVGSVGElement {
  const { name, lines, from, to, width, height } = options;
  const spaces = spacesOf(options);
  const marks = options.marks.filter(({ at }) => at >= from && at <= to);
  return chartSvg(
    { name, width, height },
    s('defs', {}, s('clipPath', { id: 'spectrum-clip' }, s('rect', plotBox(spaces)))),
    drawGround(spaces),
    ...frequencyAxis(spaces, options),
    ...densityAxis(spaces, options.em),
    s(
      'g',
      { 'clip-path': 'url(#spectrum-clip)' },
      ...lines.map((line) => drawDensity(line, spaces, options)),
      ...marks.map(({ at }) => drawMark(at, spaces)),
    ),
    ...lines.map((line) => nameLine(line, spaces, options)),
    ...marks.map((mark, i) => nameMark(mark, i, spaces, options.em)),
  );
}

function spacesOf({ frequency, lines, from, to, width, height, em }: SpectrumChartOptions): SpectrumSpaces {
  const margins = chartMargins(em);
  const inView = (values: Float64Array) =>
    values.filter((_, i) => frequency[i]! >= from && frequency[i]! <= to);
  const most = Math.max(1e-18, ...lines.map(({ density }) => Math.max(...inView(density))));
  return {
    x: scaleLog([from, to], [margins.left, width - margins.right]),
    y: scaleLog([most / DEPTH, most * 4], [height - margins.bottom, margins.top]),
    width,
    height,
    margins,
    most,
  };
}

function frequencyAxis(
  { x, width, height, margins }: SpectrumSpaces,
  { from, to, em }: SpectrumChartOptions,
): SVGElement[] {
  const bottom = height - margins.bottom;
  const ticks = decades(x, from, to).map(([at, text]) =>
    s(
      'g',
      { transform: `translate(${x(at)},${bottom})` },
      s('line', { y2: 5, class: 'tick' }),
      x(at) < width - margins.right - 60 * em &&
        s('text', { y: 5 + 12 * em, class: 'tick-text', 'text-anchor': 'middle' }, text),
    ),
  );
  return [
    ...ticks,
    axisName(width - margins.right, bottom + 5 + 12 * em, 'f', ` / ${axisPrefix(to).symbol}Hz`, 'end'),
    s('line', { x1: margins.left, x2: width - margins.right, y1: bottom, y2: bottom, class: 'axis-line' }),
  ];
}

function densityAxis({ y, most, height, margins }: SpectrumSpaces, em: number): SVGElement[] {
  const ticks = decades(y, most / DEPTH, most * 4).map(([at, text]) =>
    s(
      'g',
      { transform: `translate(${margins.left},${y(at)})` },
      s('line', { x2: -5, class: 'tick' }),
      s('text', { x: -9, dy: '0.32em', class: 'tick-text', 'text-anchor': 'end' }, text),
    ),
  );
  const [top, bottom] = [margins.top, height - margins.bottom];
  return [
    ...ticks,
    axisName(2, top - 9 * em, 'U', ` / ${axisPrefix(most).symbol}V s`, 'start'),
    s('line', { x1: margins.left, x2: margins.left, y1: top, y2: bottom, class: 'axis-line' }),
  ];
}

function drawDensity(
  { style, density }: SpectrumLine,
  { x, y, most }: SpectrumSpaces,
  { frequency, from, to }: SpectrumChartOptions,
): SVGGElement {
  const points: string[] = [];
  for (let i = 0; i < density.length; i++) {
    const f = frequency[i]!;
    if (f < from || f > to) continue;
    points.push(`${x(f).toFixed(1)},${y(Math.max(density[i]!, most / DEPTH / 3)).toFixed(1)}`);
  }
  const d = points.length > 1 ? `M${points.join('L')}` : '';
  const { dash } = seriesStyle[style];
  return s(
    'g',
    { class: `line line-${style}` },
    style === 'selected' && s('path', { d, class: 'casing' }),
    s('path', { d, class: 'stroke', 'stroke-dasharray': dash.length > 0 ? dash.join(' ') : undefined }),
  );
}

/** At the left end, over the upper line or under the lower one, clear of both over the label's width. */
function nameLine(
  { label, density }: SpectrumLine,
  { x, y, most, height, margins }: SpectrumSpaces,
  { frequency, lines, marks, from, em }: SpectrumChartOptions,
): SVGTextElement {
  const reach = x.invert(margins.left + 8 + label.length * 7.4 * em);
  const heights = (values: Float64Array) =>
    [...values].flatMap((value, i) =>
      frequency[i]! >= from && frequency[i - 1]! <= reach ? [y(Math.max(value, most / DEPTH))] : [],
    );
  // Under it stand the names of the marks.
  const lowest = height - margins.bottom - (8 + 17 * marks.length) * em;
  const first = frequency.findIndex((f) => f >= from);
  const upper = lines.every((other) => other.density[first]! <= density[first]!);
  const at = upper
    ? Math.min(...heights(density)) - 8 * em
    : Math.max(...lines.flatMap((line) => heights(line.density))) + 17 * em;
  const place = Math.min(Math.max(at, margins.top + 12 * em), lowest);
  return s('text', { x: margins.left + 8, y: place, class: 'direct-label' }, label);
}

const drawMark = (at: number, { x, height, margins }: SpectrumSpaces): SVGLineElement =>
  s('line', { x1: x(at), x2: x(at), y1: margins.top, y2: height - margins.bottom, class: 'strobe-line' });

/** The names of the marks stand one over the other, from the bottom. */
function nameMark(
  { at, label }: SpectrumChartOptions['marks'][number],
  place: number,
  { x, width, height, margins }: SpectrumSpaces,
  em: number,
): SVGTextElement {
  const left = x(at) > width * 0.6;
  return s(
    'text',
    {
      x: x(at) + (left ? -6 : 6),
      y: height - margins.bottom - (8 + 17 * place) * em,
      class: 'direct-label',
      'text-anchor': left ? 'end' : 'start',
    },
    label,
  );
}

function decades(scale: LogScale, from: number, to: number): (readonly [number, string])[] {
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
