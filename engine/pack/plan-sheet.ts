import { escapeText, figure, keepUnits, paragraph } from '../report/markup.ts';
import { band, drawChart, label, line, trace } from '../report/chart.ts';
import { BOX, q3, WRITE } from './sheet-marks.ts';
import type { BuildPack } from './pack.ts';
import type { ExpectedTrace } from './expected-traces.ts';

/** The first power-up, step by step, with the traces to expect. */
export function planPart(pack: BuildPack): string {
  const { plan, traces } = pack;
  const mark = readMarkOf(pack);
  const items = plan.map((step, i) => {
    const lines = [
      ['Do', step.act, ''],
      ['Expect', step.expect, ''],
      ['Stop if', step.stop, ' class="stop"'],
    ] as const;
    const rows = lines
      .map(
        ([name, text, mark]) => `<div${mark}><dt>${name}</dt><dd>${escapeText(keepUnits(text))}</dd></div>`,
      )
      .join('');
    const drawn =
      step.trace === undefined
        ? ''
        : step.trace === 'read'
          ? traceFigure([traces.read, traces.zero], `plan-${i}`, mark)
          : traceFigure([traces[step.trace]], `plan-${i}`, step.trace === 'magnet' ? mark : undefined);
    return `<li><h3>${BOX}${i + 1} ${escapeText(step.title)}</h3><dl>${rows}<div><dt>Found</dt><dd>${WRITE}${WRITE}${WRITE}</dd></div></dl>${drawn}</li>`;
  });
  return (
    paragraph('In this order; go on only when a step is as expected.') +
    `<ol class="plan">${items.join('')}</ol>`
  );
}

const INK = '#1C1A17';
const QUIET = '#5C6470';
const ONE = '#804018';
const ZERO = '#304098';

/** Strobe and threshold on a trace, s and V, on the side of the selected core's ONE; `one`: how high a ONE is there. */
export interface ReadMark {
  readonly time: number;
  readonly threshold: number;
  readonly one: number;
}

export function readMarkOf({ window, threading, design }: BuildPack): ReadMark {
  const { inForce, margin } = window;
  const { row, column } = design.selected;
  const { polarity } = threading.cores[row * threading.columns + column]!;
  const one = inForce.threshold + margin.one;
  return { time: inForce.time, threshold: polarity * inForce.threshold, one };
}

/** Sense voltage against time with its bands; with a mark as high as a ONE, spikes cut by the frame, and said so. */
export function traceFigure(traces: readonly ExpectedTrace[], id: string, mark?: ReadMark): string {
  const millivolts = (values: Float64Array): Float64Array => values.map((v) => v * 1e3);
  const ends = traces.flatMap((t) => [t.low, t.high]).map((v) => Array.from(v, (u) => u * 1e3));
  const whole = [
    Math.min(0, ...ends.map((v) => Math.min(...v))),
    Math.max(1, ...ends.map((v) => Math.max(...v))),
  ] as const;
  const most = mark === undefined ? Infinity : 2.5e3 * Math.max(mark.one, Math.abs(mark.threshold));
  const [low, high] = [Math.max(whole[0], -most), Math.min(whole[1], most)];
  const room = 0.08 * (high - low);
  const nano = (values: Float64Array): Float64Array => values.map((t) => t * 1e9);
  const last = traces[0]!.time.at(-1)! * 1e9;
  const svg = drawChart(
    {
      width: 660,
      height: 190,
      x: { quantity: 't', unit: 'ns', low: 0, high: last },
      y: { quantity: 'u', unit: 'mV', low: low - room, high: high + room },
      id,
      summary: `Expected at the sense wire: ${traces.map((t) => t.title).join(' and ')}.`,
    },
    (s) => [
      ...(mark === undefined
        ? []
        : [
            line(s.left, s.toY(mark.threshold * 1e3), s.right, s.toY(mark.threshold * 1e3), QUIET, 1, '5 3'),
            line(s.toX(mark.time * 1e9), s.top, s.toX(mark.time * 1e9), s.bottom, INK, 1.25),
            label(s.toX(mark.time * 1e9) + 4, s.top + 11, 'strobe', 'start'),
            label(s.right - 3, s.toY(mark.threshold * 1e3) - 4, 'threshold', 'end'),
          ]),
      ...traces.flatMap((t, i) => {
        const colour = i === 0 ? ONE : ZERO;
        return [
          band(s, nano(t.time), millivolts(t.low), millivolts(t.high), colour),
          trace(s, nano(t.time), millivolts(t.nominal), {
            colour,
            width: 1.75,
            ...(i === 0 ? {} : { dash: '7 4' }),
          }),
        ];
      }),
    ],
  );
  const cut =
    whole[1] > high || whole[0] < low
      ? ` Spikes from ${q3(whole[0] / 1e3, 'V')} to ${q3(whole[1] / 1e3, 'V')} are cut by the frame.`
      : '';
  const names = traces.map((t, i) => `${t.title} (${i === 0 ? 'brown, solid' : 'blue, dashed'})`).join(', ');
  return figure(
    svg,
    `Expected between the ends of the sense wire: ${names}. Band: ${traces[0]!.band}.${cut}`,
  );
}
