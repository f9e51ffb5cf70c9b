/** px at a text size of 16: a plot in a step. */
export const PLOT = { width: 720, height: 230 } as const;

/** The reader's text size over 16 px. */
export const readerEm = (): number => parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;

/** A plot as wide as its place, up to its own width. */
export function plotSize({ clientWidth }: HTMLElement): { width: number; height: number; em: number } {
  const em = readerEm();
  return { width: Math.min(clientWidth || PLOT.width * em, PLOT.width * em), height: PLOT.height * em, em };
}
