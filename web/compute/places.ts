/** Workers of one job at most: more would only heat the reader's machine. */
const MOST = 4;

/** Workers that a long job may have, so that one processor is left to the page. */
export const workerPlaces = (): number =>
  Math.min(MOST, Math.max(1, (navigator.hardwareConcurrency || 2) - 1));
