import { staticLoop } from '../../engine/core/loops.ts';
import type { CoreParameters } from '../../engine/design/core.ts';
import { chartSvg, drawGround } from './chart-frame.ts';
import { s } from '../ui/dom.ts';
import { acrossAxis, upAxis } from './axes.ts';
import { chartMargins } from './trace-chart.ts';
import { makeSpaces, type Spaces } from './spaces.ts';

export interface LoopChartOptions {
  readonly name: string;
  /** At the design's temperature. */
  readonly core: CoreParameters;
  /** Path taken: ampere-turns and stored flux, A and Wb. */
  readonly drive: Float64Array;
  readonly state: Float64Array;
  /** Sample at the instant shown. */
  readonly at: number;
  readonly width: number;
  readonly height: number;
  readonly em: number;
  /** What stands at the two ends. */
  readonly ends?: { readonly read: string; readonly write: string };
}

export const loopChart = (options: LoopChartOptions): SVGSVGElement => createLoopChart()(options);

/**
 * The static loop of one core (thin), the path that the selected core takes over it (heavy), and where it is now: a
 * dot that moves over a chart which is drawn once.
 */
export function createLoopChart(): (options: LoopChartOptions) => SVGSVGElement {
  let kept: { readonly key: readonly unknown[]; readonly loop: Loop } | undefined;
  return (options) => {
    const { name, core, drive, state, at, width, height, em, ends } = options;
    const key = [core, drive, state, width, height, em, ends?.read, ends?.write];
    if (!kept || key.some((part, i) => part !== kept!.key[i])) kept = { key, loop: drawLoop(options) };
    const { node, dot, spaces } = kept.loop;
    dot.setAttribute('cx', spaces.x(drive[at] ?? 0).toFixed(1));
    dot.setAttribute('cy', spaces.y(state[at] ?? 0).toFixed(1));
    node.setAttribute('aria-label', name);
    return node;
  };
}

interface Loop {
  readonly node: SVGSVGElement;
  /** Where the core is now. */
  readonly dot: SVGCircleElement;
  readonly spaces: Spaces;
}

function drawLoop(options: LoopChartOptions): Loop {
  const { core, drive, state, width, height, em, ends = { read: 'read', write: 'write' } } = options;
  const reach =
    1.08 * drive.reduce((most, value) => Math.max(most, Math.abs(value)), core.coerciveDrive * 1.3);
  const flux = core.remanentFlux * 1.2;
  const spaces = makeSpaces(
    { width, height, margins: chartMargins(em) },
    { from: -reach, to: reach },
    { low: -flux, high: flux },
  );
  const { x, y, margins } = spaces;
  const bottom = height - margins.bottom;
  const point = (F: number, phi: number) => `${x(F).toFixed(1)},${y(phi).toFixed(1)}`;
  const still = staticLoop(core, reach);
  const loop = Array.from(still.drive, (F, i) => point(F, still.phi[i]!));
  const stride = Math.max(1, Math.floor(drive.length / 4000));
  const path: string[] = [];
  for (let i = 0; i < drive.length; i += stride) path.push(point(drive[i]!, state[i]!));
  const dot = s('circle', { r: 6 * em, class: 'loop-now' });
  const corner = (text: string, atX: number, atY: number, anchor: string) =>
    s('text', { x: atX, y: atY, class: 'chart-note', 'text-anchor': anchor }, text);
  const node = chartSvg(
    { name: options.name, width, height },
    drawGround(spaces),
    s('line', { x1: x(0), x2: x(0), y1: margins.top, y2: bottom, class: 'zero-line' }),
    acrossAxis(spaces, { symbol: 'F', unit: 'A' }, em),
    upAxis(spaces, { symbol: 'φ', unit: 'Wb' }, em),
    s('path', { d: `M${loop.join('L')}Z`, class: 'loop-static' }),
    s(
      'g',
      { class: 'line line-selected' },
      s('path', { d: `M${path.join('L')}`, class: 'casing' }),
      s('path', { d: `M${path.join('L')}`, class: 'stroke' }),
    ),
    dot,
    corner(ends.write, width - margins.right - 5, margins.top + 14 * em, 'end'),
    corner(ends.read, margins.left + 6, bottom - 7 * em, 'start'),
  );
  return { node, dot, spaces };
}
