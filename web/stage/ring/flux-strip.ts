import { decimate } from '../../charts/decimate.ts';
import { makeSpaces, type TimeSpan } from '../../charts/spaces.ts';
import type { Run } from '../../model/run.ts';
import { samplesOf } from '../../model/traces.ts';
import { s } from '../../ui/dom.ts';
import { keepLast } from '../../ui/last.ts';

export interface FluxStripOptions {
  readonly run: Run;
  readonly bit: 0 | 1;
  readonly span: TimeSpan;
  /** s: where the clock stands. */
  readonly instant: number;
  readonly width: number;
  readonly height: number;
}

/** Flux held by the selected core over the span of the trace, drawn once, with the clock as a thin double line that moves. */
export function createFluxStrip(): (options: FluxStripOptions) => SVGSVGElement {
  const still = keepLast(drawStrip);
  return ({ run, bit, span, instant, width, height }) => {
    const { node, clock, x } = still(run, bit, span.from, span.to, width, height);
    const inView = instant >= span.from && instant <= span.to;
    clock.setAttribute('visibility', inView ? 'visible' : 'hidden');
    clock.setAttribute('transform', `translate(${(inView ? x(instant) : 0).toFixed(1)},0)`);
    return node;
  };
}

function drawStrip(run: Run, bit: 0 | 1, from: number, to: number, width: number, height: number) {
  const { state } = (bit === 1 ? run.one : run.zero).selected;
  const most = state.reduce((size, value) => Math.max(size, Math.abs(value)), 1e-12);
  const margins = { top: 4, right: 2, bottom: 4, left: 2 };
  const { x, y } = makeSpaces(
    { width, height, margins },
    { from, to },
    { low: -1.1 * most, high: 1.1 * most },
  );
  const points = decimate(samplesOf(run, state), from, to, Math.max(1, width));
  const path: string[] = [];
  for (let i = 0; i < points.length; i += 2)
    path.push(`${x(points[i]!).toFixed(1)},${y(points[i + 1]!).toFixed(1)}`);
  const upright = (beside: number) =>
    s('line', { x1: beside, x2: beside, y1: 0, y2: height, class: 'clock-line' });
  const clock = s('g', {}, upright(-1.5), upright(1.5));
  const node = s(
    'svg',
    { viewBox: `0 0 ${width} ${height}`, width, height, class: 'chart flux-strip', 'aria-hidden': 'true' },
    s('rect', { x: 0, y: 0, width, height, class: 'ground' }),
    s('line', { x1: 0, x2: width, y1: y(0), y2: y(0), class: 'zero-line' }),
    s('g', { class: 'line line-selected' }, s('path', { d: `M${path.join('L')}`, class: 'stroke' })),
    clock,
    s('text', { x: width - 4, y: 14, class: 'chart-note', 'text-anchor': 'end' }, 'flux held, same span'),
  );
  return { node, clock, x };
}
