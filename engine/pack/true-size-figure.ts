import { INK, QUIET, WIRES, mm } from './figure-ink.ts';
import type { Threading } from './threading-result.ts';

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
