/** How much stands beside each other: one view, two columns under the trace, or the whole stage. */
export type Layout = 'narrow' | 'middle' | 'wide';

/** The same limits stand in the style sheets: 44em and 75em. */
export const layoutNow = (): Layout =>
  window.matchMedia('(min-width: 75em)').matches
    ? 'wide'
    : window.matchMedia('(min-width: 44em)').matches
      ? 'middle'
      : 'narrow';
