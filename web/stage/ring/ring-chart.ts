import { s } from '../../ui/dom.ts';

export interface RingOptions {
  /** Flux held, as a part of the remanent flux: −1 (ZERO) to 1 (ONE). */
  readonly held: number;
  /** Ampere-turns of X and Y together, as a part of the greatest in the cycle, with their sign. */
  readonly drive: number;
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** Halves of the ring's axes, as parts of its height. */
const OUTER = { x: 0.22, y: 0.34 };
const INNER = { x: 0.08, y: 0.19 };
/** Half the angle, rad, that an arrow of the full flux takes of its limb. */
const REACH = 1.15;

/** The core with its three wires, and its flux as an arrow on either limb: its length is the flux, its head the way it goes. */
export function ringChart({ held, drive, name, width, height, em }: RingOptions): SVGSVGElement {
  const [cx, cy] = [width / 2, height / 2];
  const wire = (x1: number, y1: number, x2: number, y2: number, kind: string) =>
    s('line', { x1, y1, x2, y2, class: `ring-wire ring-${kind}` });
  const reach = 0.46 * width;
  const label = (x: number, y: number, text: string, anchor = 'start') =>
    s('text', { x, y, class: 'tick-text', 'text-anchor': anchor }, text);
  const ellipse = ({ x, y }: typeof OUTER, kind: string) =>
    s('ellipse', { cx, cy, rx: x * height, ry: y * height, class: `ring-${kind}` });
  return s(
    'svg',
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      class: 'chart ring-chart',
      'aria-label': name,
    },
    wire(cx - reach, cy - 0.16 * height, cx, cy, 'x'),
    wire(cx - reach, cy + 0.16 * height, cx, cy, 'y'),
    wire(cx, cy, cx, height - 2, 'sense'),
    ellipse(OUTER, 'body'),
    ellipse(INNER, 'hole'),
    ...arrows(cx, cy, height, held),
    // Through the hole and on in front of the ring.
    wire(cx, cy, cx + reach, cy + 0.16 * height, 'x'),
    wire(cx, cy, cx + reach, cy - 0.16 * height, 'y'),
    wire(cx, 2, cx, cy, 'sense'),
    label(cx - reach, cy - 0.2 * height, 'X'),
    label(cx - reach, cy + 0.2 * height + 10 * em, 'Y'),
    label(cx + 5, 11 * em, 'sense'),
    Math.abs(drive) < 0.02
      ? undefined
      : label(cx + reach, height - 4, drive < 0 ? 'read current' : 'write current', 'end'),
  );
}

/** On the right limb a positive flux goes up, on the left one down. */
function arrows(cx: number, cy: number, height: number, held: number): SVGPathElement[] {
  const [rx, ry] = [((OUTER.x + INNER.x) / 2) * height, ((OUTER.y + INNER.y) / 2) * height];
  const half = REACH * Math.min(1, Math.abs(held));
  if (half < 0.03) return [];
  return [0, Math.PI].map((middle) => {
    const at = (angle: number) => [cx + rx * Math.cos(angle), cy - ry * Math.sin(angle)] as const;
    const way = Math.sign(held);
    const [from, to] = [at(middle - way * half), at(middle + way * half)];
    const head = headAt(at(middle + way * (half - 0.02)), to);
    // On the page the angle grows against the clock: an arc towards greater angles sweeps with flag 0.
    const arc = `M${from.map(round).join(',')}A${round(rx)},${round(ry)} 0 0 ${way > 0 ? 0 : 1} ${to.map(round).join(',')}`;
    return s('path', { d: `${arc}${head}`, class: 'ring-flux' });
  });
}

type Point = readonly [number, number];

function headAt([x0, y0]: Point, [x, y]: Point): string {
  const angle = Math.atan2(y - y0, x - x0);
  const side = (turn: number) =>
    [x - 7 * Math.cos(angle + turn), y - 7 * Math.sin(angle + turn)].map(round).join(',');
  return `M${side(0.5)}L${round(x)},${round(y)}L${side(-0.5)}`;
}

const round = (value: number): number => Math.round(value * 10) / 10;
