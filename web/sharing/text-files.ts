import { VERSION } from '../../engine/base/version.ts';
import { toJsonDocument, toJsonText } from '../../engine/export/serialise.ts';
import type { ChartData } from './chart-data.ts';

/** What made the numbers: carried by every file that leaves the page. */
export function provenance({ design, seed }: Pick<ChartData, 'design' | 'seed'>): {
  version: string;
  seed: number;
  design: string;
} {
  return { version: VERSION, seed: seed ?? design.stored.seed, design: toJsonText(design) };
}

/** CSV with comment lines first: version, seed, inputs. Numbers are SI with every digit. */
export function chartCsv(data: ChartData): string {
  const { version, seed, design } = provenance(data);
  const length = data.columns[0]?.values.length ?? 0;
  const rows = Array.from({ length }, (_, i) =>
    data.columns.map((column) => csvCell(column.values[i])).join(','),
  );
  return [
    `# strobewright ${version}`,
    `# seed ${seed}`,
    `# design ${design}`,
    data.columns.map((column) => csvCell(column.title)).join(','),
    ...rows,
    '',
  ].join('\n');
}

/** A value as a cell of CSV: quoted where it must be, empty where there is no number. */
export function csvCell(value: number | string | undefined): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  return /[",\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
}

/** The same as JSON. */
export function chartJson(data: ChartData): string {
  const columns = Object.fromEntries(data.columns.map((column) => [column.title, Array.from(column.values)]));
  return toJsonDocument({
    version: VERSION,
    seed: provenance(data).seed,
    chart: data.title,
    summary: data.summary,
    columns,
    design: data.design,
  });
}
