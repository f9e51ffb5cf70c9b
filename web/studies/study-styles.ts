import type { Series as TokenSeries } from '../ui/tokens.ts';

/** Lines of one panel in order: told apart by direct label, marker and dash first, hue second. */
export const LINE_STYLES: readonly { readonly series: TokenSeries; readonly marker: MarkerShape }[] = [
  { series: 'selected', marker: 'circle' },
  { series: 'half', marker: 'square' },
  { series: 'direct', marker: 'diamond' },
  { series: 'inhibit', marker: 'triangle' },
];

export type MarkerShape = 'circle' | 'square' | 'diamond' | 'triangle';

/** Outline of a marker about the origin, `r` its reach in px. */
export function markerPath(shape: MarkerShape, r: number): string {
  switch (shape) {
    case 'circle':
      return `M${-r},0a${r},${r} 0 1,0 ${2 * r},0a${r},${r} 0 1,0 ${-2 * r},0Z`;
    case 'square':
      return `M${-r},${-r}H${r}V${r}H${-r}Z`;
    case 'diamond':
      return `M0,${-1.25 * r}L${1.25 * r},0L0,${1.25 * r}L${-1.25 * r},0Z`;
    case 'triangle':
      return `M0,${-1.2 * r}L${1.15 * r},${r}H${-1.15 * r}Z`;
  }
}

/** Symbols that stand on axes for what the panel's title says in words. */
const SYMBOLS: Readonly<Record<string, string>> = {
  'half-selected cores': 'n',
  temperature: 'T',
  'cycle rate': 'f',
  pattern: 'no.',
  strobe: 't',
  'drive per line': 'i',
  delay: 'T',
  width: 'w',
  attenuation: 'a',
};

export const symbolOf = (label: string): string => SYMBOLS[label] ?? label;
