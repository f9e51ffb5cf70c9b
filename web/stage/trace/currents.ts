import { acrossAxis } from '../../charts/axes.ts';
import { chartSvg } from '../../charts/chart-frame.ts';
import { extent } from '../../charts/decimate.ts';
import { makeSpaces, paddedSpan, type Margins, type TimeSpan } from '../../charts/spaces.ts';
import type { DrawTrace } from '../../charts/trace-chart.ts';
import type { Run } from '../../model/run.ts';
import { samplesOf } from '../../model/traces.ts';

export interface CurrentsData {
  readonly draw: DrawTrace;
  readonly run: Run;
  readonly bit: 0 | 1;
  readonly span: TimeSpan;
  readonly strobe: number;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly margins: Margins;
  /** Only the axis of all lanes is drawn. */
  readonly folded: boolean;
}

/** Drive currents on the main panel's time axis. */
export function drawCurrents(data: CurrentsData): SVGSVGElement {
  const { run, bit, span, width, height, em } = data;
  const { currents } = bit === 1 ? run.one : run.zero;
  const x = samplesOf(run, currents.x);
  const y = samplesOf(run, currents.y);
  const inhibit = samplesOf(run, currents.inhibit);
  const spans = [x, y, inhibit].map((samples) => extent(samples, span.from, span.to));
  const low = Math.min(...spans.map((pair) => pair?.[0] ?? 0));
  const high = Math.max(...spans.map((pair) => pair?.[1] ?? 0));
  const same = currents.x.every((value, i) => Math.abs(value - currents.y[i]!) < 1e-6);
  const inhibited = (spans[2]?.[1] ?? 0) > 0;
  if (data.folded) return axisAlone(data);
  const { node } = data.draw({
    id: 'currents',
    width,
    height,
    em,
    margins: data.margins,
    name: 'Drive currents against time',
    time: span,
    value: paddedSpan(low, high, 0.2),
    head: 16 * em,
    quantity: { symbol: 'i', unit: 'A' },
    lines: [
      { style: 'x', samples: x },
      ...(same ? [] : [{ style: 'y' as const, samples: y }]),
      ...(inhibited ? [{ style: 'inhibit' as const, samples: inhibit }] : []),
    ],
    labels: [
      ...(same
        ? [{ text: 'X and Y', samples: x, side: 'below' as const }]
        : [
            { text: 'X', samples: x, side: 'below' as const },
            { text: 'Y, dashed', samples: y, side: 'below' as const },
          ]),
      ...(inhibited ? [{ text: 'inhibit', samples: inhibit, side: 'above' as const }] : []),
    ],
    strobe: data.strobe,
  });
  return node;
}

/** The times of all lanes, under nothing. */
function axisAlone({ width, height, margins, span, em }: CurrentsData): SVGSVGElement {
  const spaces = makeSpaces({ width, height, margins }, span, { low: 0, high: 1 });
  return chartSvg(
    { name: 'Time axis of the lanes', width, height },
    acrossAxis(spaces, { symbol: 't', unit: 's' }, em),
  );
}
