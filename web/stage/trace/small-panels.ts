import { extent } from '../../charts/decimate.ts';
import { paddedSpan, type TimeSpan, type ValueSpan } from '../../charts/spaces.ts';
import { traceChart } from '../../charts/trace-chart.ts';
import { h, put } from '../../ui/dom.ts';
import type { Run } from '../../model/run.ts';
import type { Picture } from '../../sharing/chart-data.ts';
import { builtUp, CAUSES, causesOf, samplesOf, selectedPolarity } from '../../model/traces.ts';

export interface SmallPanelsData {
  readonly run: Run;
  readonly bit: 0 | 1;
  readonly buildUp: boolean;
  readonly span: TimeSpan;
  /** V: as the main panel shows; undefined: everything in view. */
  readonly value: ValueSpan | undefined;
  readonly strobe: number;
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/**
 * Four small panels on the same axes, one a cause; the total a thin neutral line behind each. With a selected core of
 * polarity -1 all are turned over, so that its ONE stands upright as in the main panel.
 */
export function drawSmallPanels(parent: HTMLElement, data: SmallPanelsData): readonly Picture[] {
  const { run, bit, span, width, height, em, strobe } = data;
  const turned = selectedPolarity(run) < 0;
  const upright = (values: Float64Array) => (turned ? values.map((value) => -value) : values);
  const total = upright((bit === 1 ? run.one : run.zero).senseVoltage);
  const parts = data.buildUp ? builtUp(causesOf(run, bit)) : causesOf(run, bit);
  const causes = {
    direct: upright(parts.direct),
    half: upright(parts.half),
    selected: upright(parts.selected),
    inhibit: upright(parts.inhibit),
  };
  const spans = [total, ...Object.values(causes)].map((values) =>
    extent(samplesOf(run, values), span.from, span.to),
  );
  const low = Math.min(...spans.map((pair) => pair?.[0] ?? 0));
  const high = Math.max(...spans.map((pair) => pair?.[1] ?? 0));
  const panels = CAUSES.map(({ key, title, style }, i) => {
    const last = i === CAUSES.length - 1;
    const { node } = traceChart({
      id: `cause-${key}`,
      width,
      height,
      em,
      name: `${title}: its part of the sense voltage while a ${bit === 1 ? 'ONE' : 'ZERO'} is read`,
      time: span,
      value: data.value ?? paddedSpan(low, high),
      quantity: { symbol: turned ? '−u' : 'u', unit: 'V' },
      lines: [
        { style: 'total', samples: samplesOf(run, total) },
        { style, samples: samplesOf(run, causes[key]) },
      ],
      strobe,
    });
    const heading = data.buildUp && i > 0 ? `+ ${title}${last ? ' = total' : ''}` : title;
    return { title: heading, svg: node };
  });
  put(
    parent,
    turned && h('p', { class: 'note small turned' }, TURNED),
    ...panels.map(({ title, svg }) => h('figure', { class: 'small-panel' }, h('figcaption', {}, title), svg)),
  );
  return panels;
}

const TURNED = 'Turned over: the wire passes the selected core backwards, so its ONE is negative.';
