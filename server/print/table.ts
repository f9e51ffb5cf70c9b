/** Rows of text with aligned columns: the first to the left, the others to the right, two blanks between. */
export function textTable(rows: readonly (readonly string[])[], indent = '  '): string {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => [...row[column]].length)));
  const pad = (cell: string, column: number): string => {
    const blanks = ' '.repeat(widths[column] - [...cell].length);
    return column === 0 ? cell + blanks : blanks + cell;
  };
  return rows.map((row) => `${indent}${row.map(pad).join('  ').trimEnd()}\n`).join('');
}
