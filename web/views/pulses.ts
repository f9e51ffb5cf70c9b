import { timeAxis } from '../chart/axes.ts';
import { makeSpaces, type TimeSpan } from '../chart/spaces.ts';
import { chartMargins } from '../chart/trace-chart.ts';
import { detect, latch } from '../../engine/index.ts';
import { s } from '../dom.ts';
import type { Run } from '../run.ts';
import type { StrobeState } from '../strobe-state.ts';
import { referredTrace } from '../traces.ts';

export interface PulsesData {
  readonly run: Run;
  readonly strobe: StrobeState;
  readonly span: TimeSpan;
  readonly width: number;
  readonly em: number;
}

/** What the detector gives out for a stored ONE and a stored ZERO, and what the latch then reads. */
export function drawPulses(data: PulsesData): SVGSVGElement {
  const { run, strobe, span, width, em } = data;
  const rowHeight = 30 * em;
  const margins = { ...chartMargins(em), top: 6 * em };
  const height = margins.top + 2 * rowHeight + margins.bottom;
  const spaces = makeSpaces({ width, height, margins }, span, { low: 0, high: 1 });
  const detector = { ...run.design.detector, threshold: strobe.threshold };
  const rows = ([1, 0] as const).map((bit, i) => {
    const { pulses } = detect(run.one.time, referredTrace(run, bit), detector);
    const read = latch(pulses, strobe.time, run.design.strobe.aperture);
    const name = bit === 1 ? 'ONE' : 'ZERO';
    const base = margins.top + (i + 1) * rowHeight - 4 * em;
    const top = base - rowHeight * 0.55;
    const points = [`M${spaces.time(span.from)},${base}`];
    for (const { start, end } of pulses) {
      if (end < span.from || start > span.to) continue;
      const [a, b] = [spaces.time(Math.max(start, span.from)), spaces.time(Math.min(end, span.to))];
      points.push(`L${a},${base}L${a},${top}L${b},${top}L${b},${base}`);
    }
    points.push(`L${spaces.time(span.to)},${base}`);
    const right = read === bit;
    return {
      text: `a stored ${name} is read as ${read === 1 ? 'ONE' : 'ZERO'}, which is ${right ? 'right' : 'wrong'}`,
      node: s(
        'g',
        { class: `line line-${bit === 1 ? 'one' : 'zero'}` },
        s('path', { d: points.join(''), class: 'stroke pulse' }),
        s('text', { x: margins.left - 6, y: base - 2, class: 'direct-label', 'text-anchor': 'end' }, name),
        s(
          'text',
          {
            x: width - margins.right,
            y: top - 3 * em + 10 * em,
            class: 'direct-label read',
            'text-anchor': 'end',
          },
          `${right ? '✓' : '✗'} reads ${read === 1 ? 'ONE' : 'ZERO'}`,
        ),
      ),
    };
  });
  const at = spaces.time(strobe.time);
  const inView = strobe.time >= span.from && strobe.time <= span.to;
  return s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      class: 'chart',
      'aria-label': `Detector output: ${rows.map((row) => row.text).join('; ')}`,
    },
    inView && s('line', { x1: at, x2: at, y1: 0, y2: height - margins.bottom, class: 'strobe-line' }),
    ...rows.map((row) => row.node),
    timeAxis(spaces, { symbol: 't', unit: 's' }, em),
  );
}
