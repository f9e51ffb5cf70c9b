import { WIRES, mm } from './figure-ink.ts';
import type { Passed, ThreadedWire } from './threading-result.ts';

export type Scale = (place: number) => number;

export function wirePath(
  wire: ThreadedWire,
  index: number,
  inside: (core: Passed) => boolean,
  x: Scale,
  y: Scale,
  cell: number,
): string {
  const style = WIRES[index % WIRES.length]!;
  // Beside the drive line it runs along, so that both are seen.
  const aside = 0.11 * cell;
  const unit = ({ way }: Passed): { x: number; y: number } => {
    const length = Math.hypot(way.x, way.y);
    return { x: way.x / length, y: way.y / length };
  };
  const at = (core: Passed, along: number): string => {
    const u = unit(core);
    // Always the upper or right side of the line, whichever way the wire goes.
    const side = u.x !== 0 ? { x: u.y === 0 ? 0 : aside * 0.5, y: -aside } : { x: aside, y: 0 };
    return `${mm(x(core.column) + u.x * along * cell + side.x)} ${mm(y(core.row) + u.y * along * cell + side.y)}`;
  };
  let d = '';
  let drawing = false;
  wire.cores.forEach((core, i) => {
    if (!inside(core)) {
      drawing = false;
      return;
    }
    d += `${drawing ? 'L' : 'M'}${at(core, -0.42)}L${at(core, 0.42)}`;
    drawing = true;
    const next = wire.cores[i + 1];
    if (next && !inside(next)) d += `L${at(core, 0.55)}`;
  });
  const arrows = wire.cores
    .filter((core, i) => inside(core) && (i % 4 === 0 || i === wire.cores.length - 1))
    .map((core) => {
      const u = unit(core);
      const turn = (Math.atan2(u.y, u.x) * 180) / Math.PI;
      return `<path transform="translate(${at(core, 0.3)}) rotate(${mm(turn)})" d="M0 0L-2 -0.8V0.8Z" fill="${style.colour}"/>`;
    })
    .join('');
  const ends = [wire.cores[0]!, wire.cores.at(-1)!]
    .map((core, i) => {
      if (!inside(core)) return '';
      const [px, py] = at(core, i === 0 ? -0.5 : 0.5).split(' ');
      const name = i === 0 ? wire.from : wire.to;
      return `<circle cx="${px}" cy="${py}" r="0.75" fill="#fff" stroke="${style.colour}" stroke-width="0.35"/><text x="${px}" y="${mm(Number(py) - 2.6 - 2.7 * (index % 2))}" font-size="2.6" font-weight="600" text-anchor="${anchorOf(index, unit(core).x)}" fill="${style.colour}" stroke="#fff" stroke-width="0.6" paint-order="stroke">${name}</text>`;
    })
    .join('');
  return `<path d="${d}" fill="none" stroke="${style.colour}" stroke-width="0.42" stroke-linejoin="round"${style.dash && ` stroke-dasharray="${style.dash}"`}/>${arrows}${ends}`;
}

/** Ends of two pieces meet between two cores: the name of each stands on its own side of the place. */
const anchorOf = (index: number, x: number): string =>
  index % 2 === 1 || x === 0 ? 'middle' : x > 0 ? 'end' : 'start';
