import { INK, QUIET, mm } from './figure-ink.ts';
import type { SeatedCore, ThreadedWire, Threading } from './threading-result.ts';
import { type Scale, wirePath } from './wire-figure.ts';

/** Part of a mat on one sheet: rows and columns from, to (not counted in). */
export interface Block {
  readonly rows: readonly [number, number];
  readonly columns: readonly [number, number];
}

/** Rows and columns that fit one sheet of A4 with cores large enough to count. */
const MOST_COLUMNS = 18;
const MOST_ROWS = 22;

/** The mat in sheets. */
export function blocksOf({ rows, columns }: Threading): readonly Block[] {
  const cut = (count: number, most: number): [number, number][] => {
    const parts = Math.ceil(count / most);
    return Array.from({ length: parts }, (_, i) => [
      Math.round((i * count) / parts),
      Math.round(((i + 1) * count) / parts),
    ]);
  };
  return cut(rows, MOST_ROWS).flatMap((r) =>
    cut(columns, MOST_COLUMNS).map((c) => ({ rows: r, columns: c })),
  );
}

/** mm of a core's place on the enlarged sheet; a pitch and a half beside and above is for names and turns. */
const cellOf = ({ columns, rows }: Block): number =>
  Math.min(16, 178 / (columns[1] - columns[0] + 1.7), 205 / (rows[1] - rows[0] + 1.5));

/**
 * One block enlarged: cores as they lean, drive lines with the way of write current, one kind of wire from core to
 * core with its order, and + or - for the polarity of each core.
 */
export function enlargedFigure(threading: Threading, block: Block, kind: 'sense' | 'inhibit'): string {
  const cell = cellOf(block);
  const [r0, r1] = block.rows;
  const [c0, c1] = block.columns;
  const width = (c1 - c0 + 1.7) * cell;
  const height = (r1 - r0 + 1.3) * cell;
  const x = (column: number): number => (column - c0 + 1.35) * cell;
  const y = (row: number): number => (row - r0 + 1.1) * cell;
  const inside = (core: { row: number; column: number }): boolean =>
    core.row >= r0 && core.row < r1 && core.column >= c0 && core.column < c1;
  const cores = threading.cores.filter(inside);
  const wires = threading.wires.filter((wire) => wire.kind === kind);
  const lines = threading.wires.filter((wire) => wire.kind === 'x' || wire.kind === 'y');
  const name = kind === 'sense' ? 'sense wire' : 'inhibit wire';
  return [
    `<svg viewBox="0 0 ${mm(width)} ${mm(height)}" style="width:${mm(width)}mm;height:${mm(height)}mm" role="img" aria-label="Rows ${r0} to ${r1 - 1}, columns ${c0} to ${c1 - 1}: cores, drive lines and the ${name}">`,
    ...lines.map((line) => driveLine(line, block, cell, x, y)),
    ...cores.map((core) => coreMark(core, x(core.column), y(core.row), cell)),
    ...wires.map((wire, i) => wirePath(wire, i, inside, x, y, cell)),
    ...cores.map((core) => coreText(core, kind, wires, x(core.column), y(core.row), cell)),
    '</svg>',
  ].join('');
}

function driveLine(line: ThreadedWire, block: Block, cell: number, x: Scale, y: Scale): string {
  const across = line.kind === 'x';
  const at = across ? line.cores[0]!.row : line.cores[0]!.column;
  const [from, to] = across ? block.rows : block.columns;
  if (at < from || at >= to) return '';
  const way = line.cores[0]!.way;
  const forward = across ? way.x > 0 : way.y > 0;
  const [a, b] = across ? block.columns : block.rows;
  const [start, end] = across ? [x(a - 0.75), x(b - 0.25)] : [y(a - 0.75), y(b - 0.35)];
  const place = across ? y(at) : x(at);
  const tip = forward ? end : start;
  const back = forward ? -1.4 : 1.4;
  const shaft = across
    ? `<path d="M${mm(start)} ${mm(place)}H${mm(end)}`
    : `<path d="M${mm(place)} ${mm(start)}V${mm(end)}`;
  const head = across
    ? `M${mm(tip)} ${mm(place)}l${back} -0.7m${-back} 0.7l${back} 0.7`
    : `M${mm(place)} ${mm(tip)}l-0.7 ${back}m0.7 ${-back}l0.7 ${back}`;
  const label = across
    ? `<text x="${mm(start - 0.6)}" y="${mm(place + 0.9)}" font-size="2.6" text-anchor="end" fill="${INK}">${line.name}</text>`
    : `<text x="${mm(place)}" y="${mm(start - 0.6)}" font-size="2.6" text-anchor="middle" fill="${INK}">${line.name}</text>`;
  return `${shaft}${head}" fill="none" stroke="${QUIET}" stroke-width="0.22"/>${cell > 4 ? label : ''}`;
}

/** A disc seen from its edge: what is left of a toroid that leans. */
function coreMark(core: SeatedCore, x: number, y: number, cell: number): string {
  if (!core.present)
    return `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(0.16 * cell)}" fill="none" stroke="${QUIET}" stroke-width="0.2" stroke-dasharray="0.6 0.5"/>`;
  const d = 0.2 * cell;
  const s = core.lean === '/' ? -1 : 1;
  return `<path d="M${mm(x - d)} ${mm(y - s * d)}L${mm(x + d)} ${mm(y + s * d)}" stroke="${INK}" stroke-width="${mm(0.12 * cell)}" stroke-linecap="round"/>`;
}

function coreText(
  core: SeatedCore,
  kind: 'sense' | 'inhibit',
  wires: readonly ThreadedWire[],
  x: number,
  y: number,
  cell: number,
): string {
  const order =
    kind === 'sense'
      ? core.place
      : wires[0]!.cores.findIndex((c) => c.row === core.row && c.column === core.column) + 1;
  const size = Math.min(2.6, 0.2 * cell);
  const sign = core.polarity > 0 ? '+' : '−';
  const sense =
    kind === 'inhibit'
      ? ''
      : `<text x="${mm(x - 0.36 * cell)}" y="${mm(y + (core.lean === '/' ? -0.2 : 0.38) * cell)}" font-size="${mm(size * 1.25)}" font-weight="600" fill="${INK}">${sign}${core.straight ? '' : '↺'}</text>`;
  return `<text x="${mm(x + 0.21 * cell)}" y="${mm(y + (core.lean === '/' ? 0.36 : -0.22) * cell)}" font-size="${mm(size)}" text-anchor="middle" fill="${INK}">${order}</text>${sense}`;
}
