import type { Advice } from './advice.ts';
import type { Change } from './changes.ts';
import { formatFigure, formatQuantity } from '../base/format-quantity.ts';
import { limitsSentence, SET_WORDS } from '../strobe/verdict-words.ts';

/** The sets of cases that changes are judged by. */
export const judgedOver = ({ sets }: Pick<Advice, 'sets'>): string =>
  sets.map((set) => SET_WORDS[set].toLowerCase()).join(' and ');

/** What an advice that says that something is met was judged with, and what else decides whether the design reads. */
export function beyondAdvice({
  sets,
  unjudged,
  heat,
  limits,
}: Pick<Advice, 'sets' | 'unjudged' | 'heat' | 'limits'>): string {
  const others = unjudged.map((set) => SET_WORDS[set].toLowerCase()).join(', ');
  return [
    ...(heat === undefined ? [] : [heatWords(heat)]),
    ...(others === '' ? [] : [`Asked for too, and not judged here: ${others}.`]),
    ...(sets.includes('corners')
      ? [`What ${heat === undefined ? '' : 'else '}is not known of the core counts in the verdict alone.`]
      : []),
    limitsSentence({ limits }).trim(),
  ]
    .filter((text) => text !== '')
    .join(' ');
}

/** With which end of an unknown temperature coefficient everything was judged. */
const heatWords = ({ parameter, value }: NonNullable<Advice['heat']>): string =>
  `Nothing is known of how the core changes with temperature: all this is judged with ${formatQuantity(value, '1/K')} on its ${parameter === 'fluxTemperatureCoefficient' ? 'flux' : 'thresholds'}, the worse end of what such cores do.`;

/** Per unit as a reader would turn it: mV and ns per ns, mA, mV, kelvin and so on. */
export function perUnitText(value: number, of: 'V' | 's', unit: Change['unit']): string {
  const [size, name] = TURNS[unit ?? '1'] ?? [1, unit ?? ''];
  const figure = formatFigure(value * size, of, 2);
  return /^[\d−]/u.test(figure) ? `${figure}/${name}` : `${figure} per ${name}`;
}

const TURNS: Readonly<Record<string, readonly [number, string]>> = {
  s: [1e-9, 'ns'],
  V: [1e-3, 'mV'],
  A: [1e-3, 'mA'],
  Hz: [1e6, 'MHz'],
  ohm: [1, 'Ω'],
  Wb: [1e-9, 'nWb'],
  '°C': [1, 'K'],
  '1/K': [1e-3, '0.1 %/K'],
};

/** A value that an input has or is brought to: with its unit, or a winding in words. */
export const changeValueText = (value: Change['from'], unit: Change['unit']): string =>
  typeof value === 'number' ? formatQuantity(value, unit ?? '1') : value.replaceAll('-', ' ');
