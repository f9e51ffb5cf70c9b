import { html, svg, type TemplateResult } from 'lit-html';
import { decimate, extent } from '../../charts/decimate.ts';
import { makeSpaces, type TimeSpan } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Run } from '../../model/run.ts';
import { samplesOf } from '../../model/traces.ts';

export interface CycleStripOptions {
  readonly run: Run;
  readonly span: TimeSpan;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  readonly onSpan: (span: TimeSpan | undefined) => void;
}

/** The whole cycle with what the lanes show of it as a bracket; a click brings the bracket there. */
export function cycleStrip({ run, span, width, height, em, onSpan }: CycleStripOptions): TemplateResult {
  const cycle = { from: 0, to: run.design.cycle.period };
  const samples = samplesOf(run, run.one.senseVoltage);
  const [low, high] = extent(samples, cycle.from, cycle.to) ?? [-1, 1];
  const margins = { left: 52 * em, right: 2, top: 2, bottom: 2 };
  const { x, y } = makeSpaces({ width, height, margins }, cycle, { low, high });
  const points = decimate(samples, cycle.from, cycle.to, Math.max(1, Math.floor(width - margins.left)));
  const path: string[] = [];
  for (let i = 0; i < points.length; i += 2)
    path.push(`${x(points[i]!).toFixed(1)},${y(points[i + 1]!).toFixed(1)}`);
  const bring = (event: PointerEvent): void => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    const half = (span.to - span.from) / 2;
    const middle = Math.min(Math.max(x.invert(event.clientX - box.left), half), cycle.to - half);
    onSpan({ from: middle - half, to: middle + half });
  };
  return html`
    <svg
      class="chart cycle-strip"
      viewBox="0 0 ${width} ${height}"
      width=${width}
      height=${height}
      role="img"
      aria-label="The whole cycle of ${formatQuantity(cycle.to, 's', 3)}; shown: ${formatQuantity(span.from, 's', 4)} to ${formatQuantity(span.to, 's', 4)}"
      @click=${bring}
    >
      ${svg`
        <rect class="ground" x=${margins.left} y="0" width=${Math.max(0, width - margins.left)} height=${height} />
        <text class="axis-name" x="0" y=${height / 2 + 4}>Cycle</text>
        <path class="cycle-line" d=${`M${path.join('L')}`} />
        <rect class="cycle-bracket" x=${x(span.from)} y="1" width=${Math.max(4, x(span.to) - x(span.from))} height=${height - 2} />
      `}
    </svg>
  `;
}
