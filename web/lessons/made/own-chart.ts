import type { Samples } from '../../charts/decimate.ts';
import type { Line } from '../../charts/marks.ts';
import { traceChart, type TraceChart } from '../../charts/trace-chart.ts';
import { samplesOn } from '../../model/traces.ts';
import { inLanguage, type ChartSize } from '../result-chart.ts';
import type { LineName, Shown } from './shown.ts';
import { lineName } from './say.ts';
import type { MadeWords } from '../words/made-words.ts';
import { leaderLabels } from '../leader-labels.ts';
import { spanOfLines } from '../span-of-lines.ts';

const STYLES: Readonly<Record<LineName, Line['style']>> = {
  one: 'one',
  zero: 'zero',
  selected: 'selected',
  half: 'half',
  leastOne: 'one',
  greatestZero: 'zero',
};

export interface OwnChartOptions {
  /** Unique on the page. */
  readonly id: string;
  readonly name: string;
  readonly size: ChartSize;
  /** Heights of a drawing, V, at its instants, s. */
  readonly drawn?: { readonly at: readonly number[]; readonly values: readonly number[] } | undefined;
  /** Where the reader has put the strobe, s, or the threshold, V; what the board says is left out then. */
  readonly placed?: { readonly strobe?: number; readonly threshold?: number };
}

/** The picture of a question's answer, or what it is placed on. */
export function ownChart(w: MadeWords, shown: Shown, options: OwnChartOptions): TraceChart {
  const { id, name, size, drawn, placed } = options;
  const [from, to] = shown.span;
  const own = shown.lines.map((line) => ({
    style: STYLES[line.name],
    label: lineName(w, line.name),
    samples: samplesOn(line.time, line.values),
  }));
  const lines = drawn
    ? [
        ...own,
        { style: 'total' as const, label: w.lines.drawn, samples: drawnSamples(drawn.at, drawn.values) },
      ]
    : own;
  const { strobe, threshold } = placed ?? shown;
  const level = threshold ?? shown.threshold;
  const chart = traceChart({
    id,
    ...size,
    name,
    time: { from, to },
    value: spanOfLines(lines, { from, to }, placed?.threshold),
    quantity: { symbol: 'u', unit: 'V' },
    lines,
    ...(strobe === undefined ? {} : { strobe }),
    ...(level === undefined ? {} : { threshold: level }),
  });
  const uprights = strobe === undefined ? [] : [strobe];
  chart.node.append(...leaderLabels(chart.spaces, lines, uprights, level, size.em));
  inLanguage(w.course, chart.node);
  return chart;
}

/** s between points of the line of a drawing. */
const POINT = 2e-9;

/** Straight from point to point, V at instants, s. */
export function drawnSamples(at: readonly number[], values: readonly number[]): Samples {
  const [first, last] = [at[0]!, at.at(-1)!];
  const time = Float64Array.from(
    { length: Math.max(2, Math.round((last - first) / POINT) + 1) },
    (_, i) => first + i * POINT,
  );
  const heights = time.map((t) => {
    const found = at.findIndex((point) => point >= t);
    const next = found < 0 ? at.length - 1 : Math.max(1, found);
    const part = Math.min(1, (t - at[next - 1]!) / (at[next]! - at[next - 1]!));
    return values[next - 1]! + part * (values[next]! - values[next - 1]!);
  });
  return samplesOn(time, heights);
}
