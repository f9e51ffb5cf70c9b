/** One line of CSV; cells that need it are quoted. */
export function csvLine(cells: readonly string[]): string {
  return `${cells.map((cell) => (/[",\n\r]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(',')}\n`;
}
