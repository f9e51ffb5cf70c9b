import { s } from '../ui/dom.ts';
import type { Plan } from './mat-spaces.ts';

/** A small cross beside a core that is not like the others. */
export function drawMark({ pitch, place }: Plan, index: number): SVGPathElement {
  const [x, y] = place(index);
  const d = crossPath(x + pitch * 0.3, y - pitch * 0.3, Math.max(2.5, pitch * 0.12));
  return s('path', { class: 'mat-mark', d });
}

/** A tick where every read was right, a cross through the core where one was not. */
export function drawTried({ pitch, place }: Plan, index: number, right: boolean): SVGPathElement {
  const [x, y] = place(index);
  const r = Math.max(3, pitch * 0.42);
  const tick = `M${x - r},${y}L${x - r * 0.3},${y + r * 0.7}L${x + r},${y - r * 0.7}`;
  return s('path', { d: right ? tick : crossPath(x, y, r), class: right ? 'mat-right' : 'mat-wrong' });
}

const crossPath = (x: number, y: number, r: number): string =>
  `M${x - r},${y - r}L${x + r},${y + r}M${x + r},${y - r}L${x - r},${y + r}`;
