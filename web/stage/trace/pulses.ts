import { makeSpaces, type Margins, type TimeSpan } from '../../charts/spaces.ts';
import { latch } from '../../../engine/sense-amplifier/detector.ts';
import { s } from '../../ui/dom.ts';
import type { Run } from '../../model/run.ts';
import type { StrobeState } from '../../model/strobe-state.ts';

export interface PulsesData {
  readonly run: Run;
  readonly strobe: StrobeState;
  readonly span: TimeSpan;
  readonly width: number;
  readonly height: number;
  readonly margins: Margins;
}

/** What the latch reads from the least ONE and from the greatest ZERO. */
export function readings(
  run: Run,
  strobe: StrobeState,
): readonly { readonly bit: 0 | 1; readonly read: 0 | 1 }[] {
  const { aperture } = run.design.strobe;
  return ([1, 0] as const).map((bit) => ({
    bit,
    read: latch(bit === 1 ? (strobe.pulses?.one ?? []) : (strobe.pulses?.zero ?? []), strobe.time, aperture),
  }));
}

export function readingsText(run: Run, strobe: StrobeState): string {
  const clauses = readings(run, strobe).map(
    ({ bit, read }) =>
      `the ${bit === 1 ? 'least ONE' : 'greatest ZERO'} is read as ${read === 1 ? 'ONE' : 'ZERO'}, which is ${read === bit ? 'right' : 'wrong'}`,
  );
  return `At the strobe ${clauses.join('; ')}.`;
}

/** Squared pulses of the detector for the least ONE and the greatest ZERO. */
export function drawPulses(data: PulsesData): SVGSVGElement {
  const { run, strobe, span, width, height, margins } = data;
  const rowHeight = (height - margins.top - margins.bottom) / 2;
  const spaces = makeSpaces({ width, height, margins }, span, { low: 0, high: 1 });
  const rows = ([1, 0] as const).map((bit, i) => {
    const pulses = (bit === 1 ? strobe.pulses?.one : strobe.pulses?.zero) ?? [];
    const base = margins.top + (i + 1) * rowHeight - 2;
    const top = base - rowHeight * 0.62;
    return s(
      'g',
      { class: `line line-${bit === 1 ? 'one' : 'zero'}` },
      ...pulses
        .filter(({ start, end }) => end >= span.from && start <= span.to)
        .map(({ start, end }) => {
          const [a, b] = [spaces.x(Math.max(start, span.from)), spaces.x(Math.min(end, span.to))];
          return s('rect', {
            x: a,
            y: top,
            width: Math.max(1, b - a),
            height: base - top,
            class: `pulse pulse-${bit}`,
          });
        }),
      s(
        'text',
        {
          x: margins.left - 6,
          y: base,
          class: `tick-text label-${bit === 1 ? 'one' : 'zero'}`,
          'text-anchor': 'end',
        },
        bit === 1 ? 'ONE' : 'ZERO',
      ),
    );
  });
  const at = spaces.x(strobe.time);
  const inView = strobe.time >= span.from && strobe.time <= span.to;
  return s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      class: 'chart',
      'aria-label': `Detector output. ${readingsText(run, strobe)}`,
    },
    s('rect', {
      x: margins.left,
      y: margins.top,
      width: Math.max(0, width - margins.left - margins.right),
      height: Math.max(0, height - margins.top - margins.bottom),
      class: 'ground',
    }),
    inView && s('line', { x1: at, x2: at, y1: 0, y2: height - margins.bottom, class: 'strobe-line' }),
    ...rows,
  );
}
