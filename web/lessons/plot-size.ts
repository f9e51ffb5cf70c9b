/** px at a text size of 16: a plot in a step. */
export const PLOT = { width: 720, height: 230 } as const;

/** The reader's text size over 16 px. */
export const readerEm = (): number => parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
