import { createTraceChart } from '../charts/trace-chart.ts';
import type { TimeSpan, ValueSpan } from '../charts/spaces.ts';
import type { Run } from '../model/run.ts';
import type { StrobeState } from '../model/strobe-state.ts';
import { samplesOf } from '../model/traces.ts';

export interface PinTraceOptions {
  /** Unique on the page. */
  readonly id: string;
  readonly name: string;
  readonly run: Run;
  readonly strobe: StrobeState;
  /** Of the stage, so that designs are compared like with like. */
  readonly span: TimeSpan;
  readonly value: ValueSpan;
  /** s: the stage's reading line. */
  readonly reading: number | undefined;
  readonly width: number;
  readonly em: number;
}

/** Least ONE and greatest ZERO of a pinned design over the stage's span and scale, with its strobe and threshold. */
export function createPinTrace(): (options: PinTraceOptions) => SVGSVGElement {
  const draw = createTraceChart();
  return ({ id, name, run, strobe, span, value, reading, width, em }) => {
    const { envelope, time, level } = strobe;
    const uncertain = run.ensemble?.uncertainties.threshold ?? 0;
    return draw({
      id,
      name: `ONE and ZERO of ${name} against time`,
      width,
      height: 150 * em,
      em,
      time: span,
      value,
      quantity: { symbol: 'u', unit: 'V' },
      lines: [
        { style: 'one', samples: samplesOf(run, envelope.one) },
        { style: 'zero', samples: samplesOf(run, envelope.zero) },
      ],
      thresholdZone: { low: level - uncertain, high: level + uncertain },
      strobe: time,
      cursors: reading === undefined ? [] : [{ time: reading, letter: '' }],
    }).node;
  };
}
