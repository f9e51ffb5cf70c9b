import type { Passed, SeatedCore, ThreadedWire, Threading } from './threading.ts';

const INK = '#1C1A17';
const QUIET = '#8A857B';
/** Wires after each other on one sheet: sense or half A, half B, and so on. */
const WIRES = [
  { colour: '#8A3A14', dash: '' },
  { colour: '#25428F', dash: '1.6 0.7' },
  { colour: '#2F5D3A', dash: '0.5 0.6' },
  { colour: '#6B3A7A', dash: '2.4 0.7 0.5 0.7' },
] as const;

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

type Scale = (place: number) => number;

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

function wirePath(
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

/** The mat as large as it is, with a line of 50 mm to check the printer; empty where it is wider than the paper. */
export function trueSizeFigure(threading: Threading): string {
  const { rows, columns, cores, wires } = threading;
  const pitch = threading.pitch * 1000;
  const [width, height] = [Math.max(56, columns * pitch + 4), rows * pitch + 9];
  if (width > 176 || height > 240) return '';
  const x = (column: number): number => 2 + (column + 0.5) * pitch;
  const y = (row: number): number => 1 + (row + 0.5) * pitch;
  const thin = Math.min(0.2, pitch * 0.06);
  const paths = wires
    .filter((wire) => wire.kind === 'sense')
    .map(({ cores: passed }, i) => {
      const d = passed.map((c, k) => `${k === 0 ? 'M' : 'L'}${mm(x(c.column))} ${mm(y(c.row))}`).join('');
      return `<path d="${d}" fill="none" stroke="${WIRES[i % WIRES.length]!.colour}" stroke-width="${mm(thin)}"/>`;
    });
  const marks = cores
    .filter((core) => core.present)
    .map((core) => {
      const d = 0.24 * pitch;
      const s = core.lean === '/' ? -1 : 1;
      return `M${mm(x(core.column) - d)} ${mm(y(core.row) - s * d)}l${mm(2 * d)} ${mm(2 * s * d)}`;
    })
    .join('');
  const foot = height - 2.5;
  return [
    `<svg viewBox="0 0 ${mm(width)} ${mm(height)}" style="width:${mm(width)}mm;height:${mm(height)}mm" role="img" aria-label="The mat at its true size">`,
    `<rect x="2" y="1" width="${mm(columns * pitch)}" height="${mm(rows * pitch)}" fill="none" stroke="${QUIET}" stroke-width="0.15"/>`,
    ...paths,
    `<path d="${marks}" stroke="${INK}" stroke-width="${mm(0.14 * pitch)}" stroke-linecap="round"/>`,
    `<path d="M2 ${mm(foot)}h50m0 -1v2m-50 -2v2" stroke="${INK}" stroke-width="0.25" fill="none"/><text x="27" y="${mm(foot - 0.8)}" font-size="2.6" text-anchor="middle" fill="${INK}">50 mm</text>`,
    '</svg>',
  ].join('');
}

const mm = (value: number): string => String(Math.round(value * 1000) / 1000);
