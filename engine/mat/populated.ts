import type { Design } from '../design/design.ts';

/** Core indices at which no core is: the mat is populated in part, or single cores are missing. */
export function absentCores({ mat, exceptions }: Pick<Design, 'mat' | 'exceptions'>): ReadonlySet<number> {
  const { rows, columns, populated } = mat;
  const absent = new Set<number>();
  if (populated !== undefined) {
    const single = new Set(populated.cores?.map(({ row, column }) => row * columns + column));
    for (let core = 0; core < rows * columns; core++) {
      const [row, column] = [Math.floor(core / columns), core % columns];
      const there = populated.rows?.includes(row) || populated.columns?.includes(column) || single.has(core);
      if (!there) absent.add(core);
    }
  }
  for (const e of exceptions) if (e.missing) absent.add(e.row * columns + e.column);
  return absent;
}
