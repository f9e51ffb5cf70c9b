import { extent, type Samples } from '../../charts/decimate.ts';
import { paddedSpan, type ValueSpan } from '../../charts/spaces.ts';
import { samplesOf, samplesOn, seenSamples } from '../../model/traces.ts';
import type { MainChartData } from './main-data.ts';
import type { Judged } from './main-data.ts';

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
