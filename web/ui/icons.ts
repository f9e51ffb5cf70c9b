import { s } from './dom.ts';

export const ICON_SHAPES = {
  ok: 'M3 8.5 6.5 12 13 4.5',
  error: 'M4 4 12 12 M12 4 4 12',
  warning: 'M8 2.5 14.5 13.5 H1.5 Z M8 6.5 V9.8 M8 11.4 V11.9',
  busy: 'M8 2 A6 6 0 1 1 2 8 M8 4.5 V8 L10.5 9.5',
  flag: 'M4 14 V2.5 H12.5 L10 5.75 L12.5 9 H4',
  stale: 'M2.5 8 A5.5 5.5 0 1 1 4.5 12.2 M2 12.5 H5 V9.5',
} as const;

export type IconName = keyof typeof ICON_SHAPES;

/** A small line drawing; always beside a word, so hidden from readers of the page's text. */
export const icon = (name: IconName): SVGSVGElement =>
  s(
    'svg',
    { viewBox: '0 0 16 16', class: `icon icon-${name}`, 'aria-hidden': 'true', focusable: 'false' },
    s('path', { d: ICON_SHAPES[name] }),
  );
