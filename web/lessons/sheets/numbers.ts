/** Sheets that one print holds at most. */
export const MOST_SHEETS = 40;

/** "7" or "1 to 6" as the numbers that it means; undefined where it means none, or more than are printed at once. */
export function readNumbers(text: string, most: number): readonly number[] | undefined {
  const found = /^(\d{1,3})(?:\s*(?:to|bis|[-–])\s*(\d{1,3}))?$/u.exec(text.trim());
  if (!found) return undefined;
  const from = Number(found[1]);
  const to = Number(found[2] ?? found[1]);
  if (from < 1 || to < from || to > most || to - from >= MOST_SHEETS) return undefined;
  return Array.from({ length: to - from + 1 }, (_, k) => from + k);
}
