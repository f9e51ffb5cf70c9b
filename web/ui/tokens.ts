/** Every colour and dash of the page, once. `tokensCss` turns them into custom properties. */

export const SERIES = ['one', 'zero', 'direct', 'half', 'selected', 'inhibit', 'measured'] as const;
export type Series = (typeof SERIES)[number];

export interface SeriesStyle {
  readonly light: string;
  readonly dark: string;
  /** Dash lengths in px; empty = solid. */
  readonly dash: readonly number[];
  readonly width: number;
}

export const seriesStyle: Readonly<Record<Series, SeriesStyle>> = {
  one: { light: '#804018', dark: '#F88020', dash: [], width: 2.25 },
  zero: { light: '#304098', dark: '#B0D0F8', dash: [7, 4], width: 2.25 },
  direct: { light: '#407060', dark: '#98B8B8', dash: [2, 3], width: 2.25 },
  half: { light: '#A87000', dark: '#E8B880', dash: [10, 3, 2, 3], width: 2 },
  selected: { light: '#700050', dark: '#C87878', dash: [], width: 2.25 },
  inhibit: { light: '#7868A0', dark: '#B090E0', dash: [12, 5], width: 2 },
  measured: { light: '#1C1A17', dark: '#F4F0E8', dash: [], width: 1.25 },
};

/** Series that share a panel: they must stay apart by dash and by hue. */
export const panelPairs: readonly (readonly [Series, Series])[] = [
  ['one', 'zero'],
  ['one', 'measured'],
  ['zero', 'measured'],
  ['selected', 'half'],
  ['selected', 'direct'],
  ['selected', 'inhibit'],
  ['half', 'direct'],
  ['zero', 'half'],
];

export const surface = {
  page: { light: '#F3F0E8', dark: '#1A1F26' },
  ground: { light: '#FAF8F3', dark: '#20262E' },
  strobeTint: { light: '#EFEDE8', dark: '#2D3239' },
  strobeEdge: { light: '#6A6154', dark: '#BDB4A6' },
  thresholdTint: { light: '#F1EFEA', dark: '#2B3037' },
  thresholdEdge: { light: '#5C6470', dark: '#A9B4C4' },
  text: { light: '#1C1A17', dark: '#F4F0E8' },
  secondary: { light: '#57524A', dark: '#C3BFB6' },
  error: { light: '#8A1F11', dark: '#FFB4A6' },
  ok: { light: '#2F5D3A', dark: '#A6D3B0' },
  warning: { light: '#7A4B00', dark: '#F0C48A' },
  /** Sign in the mat, beside solid and broken. */
  adds: { light: '#B04A2F', dark: '#F09A7C' },
  takes: { light: '#2B6C93', dark: '#8CC4EA' },
  rule: { light: '#D8D2C4', dark: '#3A424D' },
} as const;

/** Dash of the threshold's edges. */
export const thresholdDash = [5, 3] as const;

/** Dash of what stood before the last change. */
export const beforeDash = [1.5, 3] as const;

/** Dashes of the drive currents, all in ink: X solid, Y dashed. */
export const currentDash = { x: [], y: [6, 3] } as const;

type Theme = 'light' | 'dark';

function declarations(theme: Theme): string {
  const kebab = (name: string) => name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);
  const colours = [
    ...SERIES.map((name) => [`--${name}`, seriesStyle[name][theme]]),
    ...Object.entries(surface).map(([name, value]) => [`--${kebab(name)}`, value[theme]]),
  ];
  return [...colours, ['color-scheme', theme]].map(([name, value]) => `${name}:${value}`).join(';');
}

/** Custom properties: light by default, dark when the reader's system or the toggle says so, print always light. */
export function tokensCss(): string {
  const dark = declarations('dark');
  return [
    `:root{${declarations('light')}}`,
    `@media screen and (prefers-color-scheme:dark){:root:not([data-theme=light]){${dark}}}`,
    `@media screen{:root[data-theme=dark]{${dark}}}`,
  ].join('\n');
}
