import { extent } from '../../charts/decimate.ts';
import { paddedSpan, type Margins, type TimeSpan } from '../../charts/spaces.ts';
import type { DrawTrace } from '../../charts/trace-chart.ts';
import type { Run } from '../../model/run.ts';
import { builtUp, CAUSES, causesOf, samplesOf, type Cause } from '../../model/traces.ts';

export interface CausesOptions {
  readonly draw: DrawTrace;
  readonly run: Run;
  readonly bit: 0 | 1;
  readonly way: 'alone' | 'up';
  /** The others step back. */
  readonly picked: Cause | undefined;
  readonly span: TimeSpan;
  readonly strobe: number;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly margins: Margins;
}

/** The four causes at the wire, signed as they are there: each alone, or added up one after another. */
export function drawCauses(options: CausesOptions): SVGSVGElement {
  const { draw, run, bit, way, picked, span, strobe, width, height, em, margins } = options;
  const parts = way === 'up' ? builtUp(causesOf(run, bit)) : causesOf(run, bit);
  const lines = CAUSES.map(({ key, title, style }) => ({
    key,
    style,
    faint: picked !== undefined && picked !== key,
    text: title.toLowerCase(),
    samples: samplesOf(run, parts[key]),
  }));
  const spans = lines.map(({ samples }) => extent(samples, span.from, span.to));
  const low = Math.min(...spans.map((pair) => pair?.[0] ?? 0));
  const high = Math.max(...spans.map((pair) => pair?.[1] ?? 0));
  const heard = lines.filter(
    ({ key }, i) => key === picked || (spans[i]?.[1] ?? 0) - (spans[i]?.[0] ?? 0) > 0.02 * (high - low),
  );
  return draw({
    id: 'causes',
    width,
    height,
    em,
    margins,
    timeLabels: false,
    name: `Sense voltage by cause while a ${bit === 1 ? 'ONE' : 'ZERO'} is read`,
    time: span,
    value: paddedSpan(low, high),
    head: 16 * em,
    quantity: { symbol: 'u', unit: 'V' },
    lines: heard,
    labels: heard.map((line) => ({ ...line, side: 'above' as const })),
    strobe,
  }).node;
}
