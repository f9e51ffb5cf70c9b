import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Samples } from '../../charts/decimate.ts';
import { createTraceChart, type DrawTrace, type TraceChart } from '../../charts/trace-chart.ts';
import type { TraceChartOptions } from '../../charts/trace-options.ts';
import type { Spaces } from '../../charts/spaces.ts';
import { bracketText, drawBracket } from './margin-bracket.ts';
import { samplesOf } from '../../model/traces.ts';
import { drawFresh } from './fresh-marks.ts';
import { wideMarks } from './wide-marks.ts';
import type { Drawn, Judged, MainChartData } from './main-data.ts';

/** ONE and ZERO: least, greatest and what lies between, with window and threshold; or two fresh reads alone. */
export const createMainChart = (): ((data: MainChartData) => TraceChart) => {
  const draw = createTraceChart();
  return (data) => drawMain(data, draw);
};

function drawMain(data: MainChartData, draw: DrawTrace): TraceChart {
  const { span, width, height, em, marks, measured, margins } = data;
  const all = data.fresh ? drawFresh(data.fresh) : drawJudged(data.judged!, data);
  const drawn: Drawn = data.marginCovered ? withoutMargin(all) : all;
  const at = data.fresh || data.marginCovered ? undefined : data.judged?.strobe.time;
  const bracketed = at !== undefined && at >= span.from && at <= span.to ? data.judged : undefined;
  const chart = draw({
    id: 'main',
    width,
    height,
    em,
    name: data.fresh
      ? 'ONE and ZERO of this design alone against time, with the threshold'
      : 'ONE and ZERO against time, with the strobe window and the threshold',
    margins,
    timeLabels: false,
    time: span,
    value: data.value,
    quantity: { symbol: 'u', unit: 'V' },
    ...drawn,
    ...(bracketed ? { taken: (spaces: Spaces) => [bracketText(spaces, bracketed, em)] } : {}),
    lines: [
      ...beforeLines(data.before),
      ...drawn.lines,
      ...(measured ? [{ style: 'measured' as const, samples: measured.samples }] : []),
    ],
    cursors: marks
      ? [
          { time: marks[0], letter: 'A' },
          { time: marks[1], letter: 'B' },
        ]
      : [],
  });
  if (bracketed) chart.over.append(drawBracket(chart.spaces, bracketed, em));
  return chart;
}

/** Strobe and threshold, without what says how good they are. */
function withoutMargin(drawn: Drawn): Drawn {
  const { bands, lines, labels, strobe, threshold } = drawn;
  return {
    lines,
    ...(bands && { bands }),
    ...(labels && { labels }),
    ...(strobe !== undefined && { strobe }),
    ...(threshold !== undefined && { threshold }),
  };
}

const beforeLines = (before: Judged | undefined): TraceChartOptions['lines'] =>
  before
    ? [
        { style: 'before-one', samples: samplesOf(before.run, before.strobe.envelope.one) },
        { style: 'before-zero', samples: samplesOf(before.run, before.strobe.envelope.zero) },
      ]
    : [];

function drawJudged(judged: Judged, { follows, span, evidence }: MainChartData): Drawn {
  const { run, strobe } = judged;
  const wide = wideMarks(judged, evidence, follows);
  const { envelope } = strobe;
  const samples = (values: Float64Array) => samplesOf(run, values);
  const uncertain = run.ensemble?.uncertainties.threshold ?? 0;
  const seconds = (value: number) => formatQuantity(value, 's', 4);
  const level = (volts: number): Samples => ({
    start: span.from,
    step: span.to - span.from,
    values: [volts, volts],
  });
  const inView = strobe.time >= span.from && strobe.time <= span.to;
  const middle = strobe.here ? (strobe.here.start + strobe.here.end) / 2 : strobe.time;
  return {
    bands: [
      ...wide.bands,
      { style: 'one', low: samples(envelope.one), high: samples(envelope.oneHigh) },
      { style: 'zero', low: samples(envelope.zeroLow), high: samples(envelope.zero) },
    ],
    lines: [
      ...wide.lines,
      { style: 'one', samples: samples(envelope.one) },
      { style: 'zero', samples: samples(envelope.zero) },
    ],
    strobeZones: strobe.intervals.map(({ start, end }) => ({ from: start, to: end })),
    thresholdZone: { low: strobe.level - uncertain, high: strobe.level + uncertain },
    strobe: strobe.time,
    threshold: strobe.level,
    labels: [
      { text: 'ONE, least', style: 'one', samples: samples(envelope.one), side: 'above', near: middle },
      { text: 'ZERO, greatest', style: 'zero', samples: samples(envelope.zero), side: 'below', near: middle },
      {
        text: `Threshold ${formatQuantity(strobe.level, 'V', 3)} ± ${formatQuantity(uncertain, 'V', 2)}`,
        samples: level(strobe.level + uncertain),
        side: 'above',
        near: span.from + 0.72 * (span.to - span.from),
      },
      ...wide.labels,
    ],
    ...(inView
      ? {
          flag: {
            time: strobe.time,
            text: `${seconds(strobe.time)}${follows ? ' · best' : ''}`,
            beside: strobe.here
              ? `window ${seconds(strobe.here.start)} to ${seconds(strobe.here.end)}`
              : 'in no window',
          },
        }
      : {}),
  };
}
