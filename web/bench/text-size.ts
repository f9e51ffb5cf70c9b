/** The reader's text size over 16 px. */
export const textSize = (): number => parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
