import type { Design } from '../../../engine/design/design.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { extent, type Samples } from '../../charts/decimate.ts';
import { paddedSpan, type Margins, type TimeSpan, type ValueSpan } from '../../charts/spaces.ts';
import { traceChart, type TraceChart, type TraceChartOptions } from '../../charts/trace-chart.ts';
import type { Run } from '../../model/run.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import { samplesOf, samplesOn, seenTrace } from '../../model/traces.ts';

/** A run with its strobe analysis at the strobe and threshold in force. */
export interface Judged {
  readonly run: Run;
  readonly strobe: StrobeState;
}

/** The design's own reads, newer than any analysis at hand; one of them may still be on its way. */
export interface Fresh {
  readonly design: Design;
  readonly one: Simulation | undefined;
  readonly zero: Simulation | undefined;
}

export interface MainChartData {
  /** The last analysis; of inputs before where there are fresh reads. */
  readonly judged: Judged | undefined;
  readonly fresh: Fresh | undefined;
  readonly span: TimeSpan;
  /** V at the top of the lane while the reader holds it; undefined: room for the bell. */
  readonly scale: number | undefined;
  /** s: marks A and B. */
  readonly marks: readonly [number, number] | undefined;
  readonly margins: Margins;
  /** A capture from the bench, as the detector would hear it. */
  readonly measured: { readonly label: string; readonly samples: Samples } | undefined;
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

type Drawn = Pick<
  TraceChartOptions,
  'bands' | 'lines' | 'labels' | 'strobeZones' | 'thresholdZone' | 'strobe' | 'threshold'
>;

/** ONE and ZERO: least, greatest and what lies between, with window and threshold; or two fresh reads alone. */
export function drawMain(data: MainChartData): TraceChart {
  const { span, width, height, em, marks, measured, margins } = data;
  const drawn = data.fresh ? drawFresh(data.fresh) : drawJudged(data.judged!);
  return traceChart({
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
    value: mainValueSpan(data),
    quantity: { symbol: 'u', unit: 'V' },
    ...drawn,
    lines: [...drawn.lines, ...(measured ? [{ style: 'measured' as const, samples: measured.samples }] : [])],
    cursors: marks
      ? [
          { time: marks[0], letter: 'A' },
          { time: marks[1], letter: 'B' },
        ]
      : [],
  });
}

function drawJudged({ run, strobe }: Judged): Drawn {
  const { envelope } = strobe;
  const samples = (values: Float64Array) => samplesOf(run, values);
  const uncertain = run.ensemble?.uncertainties.threshold ?? 0;
  const middle = strobe.here ? (strobe.here.start + strobe.here.end) / 2 : strobe.time;
  return {
    bands: [
      { style: 'one', low: samples(envelope.one), high: samples(envelope.oneHigh) },
      { style: 'zero', low: samples(envelope.zeroLow), high: samples(envelope.zero) },
    ],
    lines: [
      { style: 'one', samples: samples(envelope.one) },
      { style: 'zero', samples: samples(envelope.zero) },
    ],
    strobeZones: strobe.intervals.map(({ start, end }) => ({ from: start, to: end })),
    thresholdZone: { low: strobe.level - uncertain, high: strobe.level + uncertain },
    strobe: strobe.time,
    threshold: strobe.level,
    labels: [
      { text: 'ONE, least', samples: samples(envelope.one), side: 'above', near: middle },
      { text: 'ZERO, greatest', samples: samples(envelope.zero), side: 'below', near: middle },
    ],
  };
}

function drawFresh({ design, one, zero }: Fresh): Drawn {
  const level = design.detector.threshold;
  const uncertain = strobeUncertainties(design).threshold;
  const shown = [
    ...(one
      ? [{ style: 'one' as const, samples: seenSamples(one), text: 'ONE', side: 'above' as const }]
      : []),
    ...(zero
      ? [{ style: 'zero' as const, samples: seenSamples(zero), text: 'ZERO', side: 'below' as const }]
      : []),
  ];
  return {
    lines: shown,
    labels: shown,
    thresholdZone: { low: level - uncertain, high: level + uncertain },
    threshold: level,
    strobe: design.strobe.time,
  };
}

const seenSamples = (trace: Simulation): Samples => samplesOn(trace.time, seenTrace(trace));

/** Room for the signal: 1.6 times what the selected core gives, whatever the spikes beside it; or everything in view. */
export function mainValueSpan(data: Pick<MainChartData, 'judged' | 'fresh' | 'span' | 'scale'>): ValueSpan {
  const { span, scale, judged, fresh } = data;
  if (scale !== undefined) return { low: -0.12 * scale, high: scale };
  // The lines before count too, so that the axis keeps still while worst cases are sought.
  const lines = [
    ...[fresh?.one, fresh?.zero].filter((one) => one !== undefined).map(seenSamples),
    ...(judged ? ofJudged(judged) : []),
  ];
  const all = lines.map((samples) => extent(samples, span.from, span.to));
  const low = Math.min(...all.map((pair) => pair?.[0] ?? 0));
  const high = Math.max(...all.map((pair) => pair?.[1] ?? 0));
  const level = fresh?.design.detector.threshold ?? judged!.strobe.level;
  const one = fresh?.one ?? judged?.run.one;
  if (!one) return paddedSpan(low, Math.max(high, level));
  const bell = extent(samplesOn(one.time, one.contributions!.selectedCore), 0, one.design.cycle.readWidth);
  const peak = Math.max(Math.abs(bell?.[0] ?? 0), bell?.[1] ?? 0, 1e-4);
  const size = Math.max(peak, level / 1.45);
  return paddedSpan(Math.min(-0.12 * size, Math.max(low, -0.9 * size)), Math.min(high, 1.6 * size));
}

/** V: how far the lines go beyond what is shown, upward; undefined where all of it is in view. */
export function cutOff(data: Pick<MainChartData, 'judged' | 'fresh' | 'span' | 'scale'>): number | undefined {
  const { span, judged, fresh } = data;
  if (fresh || !judged) return undefined;
  const tops = ofJudged(judged).map((samples) => extent(samples, span.from, span.to)?.[1] ?? 0);
  const top = Math.max(...tops);
  return top > mainValueSpan(data).high ? top : undefined;
}

const ofJudged = ({ run, strobe: { envelope } }: Judged): Samples[] =>
  [envelope.oneHigh, envelope.zeroLow, envelope.zero].map((values) => samplesOf(run, values));
