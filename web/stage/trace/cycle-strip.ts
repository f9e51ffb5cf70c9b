import { html, svg, type TemplateResult } from 'lit-html';
import { decimate, extent } from '../../charts/decimate.ts';
import { textWidth } from '../../charts/label-width.ts';
import { makeSpaces, type TimeSpan } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Run } from '../../model/run.ts';
import { samplesOf } from '../../model/traces.ts';
import { bracketDrag, bracketKey } from './cycle-bracket.ts';

export interface CycleStripOptions {
  readonly run: Run;
  readonly span: TimeSpan;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly onSpan: (span: TimeSpan) => void;
}

/** The whole cycle with what the lanes show of it as a bracket, which is dragged by its middle or its ends. */
export function cycleStrip({ run, span, width, height, em, onSpan }: CycleStripOptions): TemplateResult {
  const cycle = { from: 0, to: run.design.cycle.period };
  const samples = samplesOf(run, run.one.senseVoltage);
  const [low, high] = extent(samples, cycle.from, cycle.to) ?? [-1, 1];
  const ends = formatQuantity(cycle.to, 's', 2);
  const margins = { left: 52 * em, right: textWidth(ends, em) + 8, top: 2, bottom: 2 };
  const { x, y } = makeSpaces({ width, height, margins }, cycle, { low, high });
  const room = Math.max(1, Math.floor(width - margins.left - margins.right));
  const points = decimate(samples, cycle.from, cycle.to, room);
  const path: string[] = [];
  for (let i = 0; i < points.length; i += 2)
    path.push(`${x(points[i]!).toFixed(1)},${y(points[i + 1]!).toFixed(1)}`);
  const drag = bracketDrag({ cycle, span, x, onSpan });
  const nanoseconds = (time: number): number => Number((time * 1e9).toFixed(3));
  const shown = `${formatQuantity(span.from, 's', 4)} to ${formatQuantity(span.to, 's', 4)}`;
  return html`
    <svg
      class="chart cycle-strip"
      viewBox="0 0 ${width} ${height}"
      width=${width}
      height=${height}
      role="slider"
      tabindex="0"
      aria-label="Part of the cycle of ${formatQuantity(cycle.to, 's', 3)} that is shown: arrows move it, with Shift its end"
      aria-valuemin="0"
      aria-valuemax=${nanoseconds(cycle.to)}
      aria-valuenow=${nanoseconds(span.from)}
      aria-valuetext=${shown}
      @pointerdown=${drag}
      @keydown=${(event: KeyboardEvent) => {
        const next = bracketKey(event, span, cycle);
        if (!next) return;
        event.preventDefault();
        onSpan(next);
      }}
    >
      ${svg`
        <rect class="ground" x=${margins.left} y="0" width=${room} height=${height} />
        <text class="axis-name" x="0" y=${height / 2 + 4}>Cycle</text>
        <text class="tick-text" x=${width - 2} y=${height / 2 + 4} text-anchor="end">${ends}</text>
        <path class="cycle-line" d=${`M${path.join('L')}`} />
        <rect class="cycle-bracket" x=${x(span.from)} y="1" width=${Math.max(4, x(span.to) - x(span.from))} height=${height - 2} />
      `}
    </svg>
  `;
}
