import { line, type Spaces } from './chart.ts';

/** Colours of the report's figures, each beside a name or a dash of its own. */
export const ONE = '#804018';
export const ZERO = '#304098';
export const NEUTRAL = '#8A857B';
export const STROBE_TINT = '#EFEDE8';
export const STROBE_EDGE = '#6A6154';
export const THRESHOLD_EDGE = '#5C6470';
export const INK = '#1C1A17';

/** An upright line over the whole height, at `x` in the axis' own unit. */
export const vertical = (s: Spaces, x: number, colour: string, width: number, dash = ''): string =>
  line(s.toX(x), s.top, s.toX(x), s.bottom, colour, width, dash);
