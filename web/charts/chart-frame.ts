import { s } from '../ui/dom.ts';
import type { Spaces } from './spaces.ts';

export interface ChartFrame {
  /** What the chart shows, for who cannot see it. */
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly className?: string;
}

/** A chart under its name, with what is drawn on it. */
export const chartSvg = (
  { name, width, height, className = 'chart' }: ChartFrame,
  ...drawn: readonly (Node | undefined | false)[]
): SVGSVGElement =>
  s(
    'svg',
    { viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', 'aria-label': name, class: className },
    ...drawn,
  );

/** What lies between the axes. */
export const plotBox = ({ width, height, margins }: Pick<Spaces, 'width' | 'height' | 'margins'>) => ({
  x: margins.left,
  y: margins.top,
  width: Math.max(0, width - margins.left - margins.right),
  height: Math.max(0, height - margins.bottom - margins.top),
});

/** The ground that a chart is drawn on. */
export const drawGround = (spaces: Pick<Spaces, 'width' | 'height' | 'margins'>): SVGRectElement =>
  s('rect', { ...plotBox(spaces), class: 'ground' });
