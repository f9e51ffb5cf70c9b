import { html, nothing, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { CoreReport } from '../../engine/core/handbook/core-report.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { extent, type Samples } from '../charts/decimate.ts';
import { scrollTable } from '../ui/table.ts';
import { evenly } from '../model/measured-trace.ts';

const PARAMETERS: readonly (readonly [keyof CoreParameters, string, Unit])[] = [
  ['remanentFlux', 'remanent flux', 'Wb'],
  ['coerciveDrive', 'coercive drive F_c', 'A'],
  ['dynamicThreshold', 'dynamic threshold F_0', 'A'],
  ['switchingResistance', 'switching resistance', 'ohm'],
  ['elasticSaturated', 'elastic inductance, saturated side', 'H'],
  ['elasticKnee', 'elastic inductance, toward the knee', 'H'],
];

/** Measured beside what the model core answers, its parameters, and what had to be assumed. */
export function jigResult({ comparisons, parameters, notes }: CoreReport): TemplateResult {
  const worst = Math.max(0, ...comparisons.map(({ deviation }) => Math.abs(deviation ?? 0)));
  const within = worst < 1e-3 ? 'better than 0.1 %' : `within ${(worst * 100).toPrecision(2)} %`;
  return html`<p>The model core answers what was measured to ${within}.</p>
    ${scrollTable({
      name: 'Measured and answered',
      caption: 'One core: measured, and what the model answers',
      heads: ['Quantity', 'measured', 'model', 'off by'],
      rows: comparisons.map(({ meaning, unit, wanted, achieved, deviation }) => [
        meaning,
        wanted === undefined ? '' : formatQuantity(wanted, unit, 4),
        Number.isNaN(achieved) ? 'no edge to read' : formatQuantity(achieved, unit, 4),
        deviation === undefined ? '' : deviationWords(deviation),
      ]),
    })}
    ${scrollTable({
      name: 'Core parameters',
      caption: 'Parameters of the core',
      heads: ['Parameter', 'value'],
      rows: PARAMETERS.map(([key, words, unit]) => [words, formatQuantity(parameters[key], unit, 4)]),
    })}
    ${
      notes.length > 0
        ? html`<ul class="findings">
            ${notes.map((note) => html`<li>${note}</li>`)}
          </ul>`
        : nothing
    }`;
}

/** In per cent, to two places, with a true minus and no minus zero. */
export function deviationWords(deviation: number): string {
  const percent = (deviation * 100).toFixed(2);
  return `${Number(percent) === 0 ? '0.00' : percent.replace('-', '−')} %`;
}

/** What one core of these parameters puts on a wire through it, as read with full drive. */
export function jigChart({ traces }: CoreReport, width: number, em: number): SVGSVGElement {
  // A read drives the core downward; a bench shows its answer upward.
  const [one, zero] = [traces.one, traces.zero].map(({ time, emf }) =>
    evenly(
      time,
      emf.map((value) => -value),
    ),
  ) as [Samples, Samples];
  const span = { from: 0, to: traces.one.time.at(-1)! };
  const ends = [one, zero].map((samples) => extent(samples, span.from, span.to) ?? [0, 0]);
  return traceChart({
    id: 'bench-core',
    width,
    height: 220 * em,
    em,
    name: 'ONE and ZERO of one core alone under full drive',
    time: span,
    value: paddedSpan(Math.min(...ends.map(([low]) => low)), Math.max(...ends.map(([, high]) => high))),
    quantity: { symbol: 'u', unit: 'V' },
    lines: [
      { style: 'one', samples: one },
      { style: 'zero', samples: zero },
    ],
    labels: [
      { text: 'ONE', samples: one, side: 'above' },
      { text: 'ZERO', samples: zero, side: 'below' },
    ],
  }).node;
}
