import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Unit } from '../../../engine/base/units.ts';
import type { Answer, Figure, StepTrace } from '../step.ts';
import type { Words } from './shape.ts';
import type { StepWords } from './step-words.ts';

/** V: less than this is told as such. */
const LEAST_VOLTAGE = 1e-6;

/** A quantity as the language writes it. */
export const quantityText = ({ say }: Words, value: number, unit: Unit, digits: number): string =>
  decimalIn(say.decimal, formatQuantity(value, unit, digits));

/** A figure as the language writes it. */
export function figureText(words: Words, { value, unit, digits }: Figure): string {
  if (unit === 'V' && Math.abs(value) < LEAST_VOLTAGE) return words.say.under('1 µV');
  return unit === '%'
    ? `${quantityText(words, value * 100, '1', digits)} %`
    : quantityText(words, value, unit, digits);
}

/** A number in the unit it is asked in, with two digits. */
export const numberText = (words: Words, value: number, unit: string): string =>
  `${quantityText(words, value, '1', 2)}${unit === '' ? '' : ` ${unit}`}`;

/** A number as it stands, not rounded. */
export const plainNumber = ({ say }: Words, value: number): string => decimalIn(say.decimal, String(value));

const decimalIn = (decimal: string, text: string): string => text.replace('.', decimal);

export const answerName = (words: Words, step: StepWords, { name, of }: Answer): string =>
  wordFor(step.answers, name).replace('{}', of ? figureText(words, of) : '');

export function answerValue(words: Words, { figures, joined = 'and' }: Answer): string {
  if (figures.length === 0) return words.say.none;
  return figures.map((figure) => figureText(words, figure)).join(` ${words.say[joined]} `);
}

export const traceLabel = (words: Words, step: StepWords, { label }: StepTrace): string =>
  typeof label === 'string' ? wordFor(step.traces, label) : figureText(words, label);

/** A key that has no word is a mistake of ours: the tests look every one of them up. */
export function wordFor<T>(words: Readonly<Record<string, T>> | undefined, key: string): T {
  const found = words?.[key];
  if (found === undefined) throw new TypeError(`The words of this step hold nothing for “${key}”.`);
  return found;
}
