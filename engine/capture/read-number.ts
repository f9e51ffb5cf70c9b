import { TIME_UNITS, VALUE_UNITS } from './capture.ts';
import type { DecimalMark } from './capture.ts';

/** What a cell holds: a number with the unit written beside it, nothing ('missing'), or something else (undefined). */
export type Cell = { readonly value: number; readonly unit: string | undefined } | 'missing' | undefined;

const BODY = String.raw`(\d+(?:D\d*)?|D\d+)(?:[eEdD]([+-]?\d{1,3}))?`;
const UNIT = String.raw`(?:\s*([a-zA-Z\u00b5\u03bc\u2126\u03a9]{1,3}))?`;
const patternFor = (mark: string): RegExp =>
  new RegExp(`^([+-]?)${BODY.replaceAll('D\\d', `${mark}\\d`)}${UNIT}$`, 'u');
const PLAIN = { point: patternFor(String.raw`\.`), comma: patternFor(',') };
const GROUPED = {
  point: /^([+-]?)([1-9]\d{0,2}(?:[,' \u00a0\u202f]\d{3})+)(\.\d*)?$/u,
  comma: /^([+-]?)([1-9]\d{0,2}(?:[.' \u00a0\u202f]\d{3})+)(,\d*)?$/u,
};
const MISSING = /^(?:|nan|-+|\*+|n\/?a|null|none)$/iu;
const KNOWN = new Set<string>([...Object.keys(TIME_UNITS), ...Object.keys(VALUE_UNITS)]);

/** Characters of a cell that can still be a number with its unit. */
const LONGEST_CELL = 80;

/** Spellings of micro, volts and seconds to the short form; undefined when it is no unit that is known. */
export function knownUnit(text: string): string | undefined {
  const plain = text.trim().replace(/[\u00b5\u03bc]/gu, 'u');
  if (KNOWN.has(plain)) return plain;
  const word = /^(milli|micro|nano|pico)?(volt|ampere|amp|second|sec)s?$/iu.exec(plain);
  if (!word)
    return plain === plain.toUpperCase() && plain.length > 1
      ? undefined
      : { msec: 'ms', usec: 'us', nsec: 'ns', v: 'V', mv: 'mV', uv: 'uV' }[plain.toLowerCase()];
  const prefix = { milli: 'm', micro: 'u', nano: 'n', pico: 'p' }[word[1]?.toLowerCase() ?? ''] ?? '';
  const base = { v: 'V', a: 'A', s: 's' }[word[2][0].toLowerCase() as 'v' | 'a' | 's'];
  return KNOWN.has(prefix + base) ? prefix + base : undefined;
}

/** A unit written all in capitals, as old instruments do: "NS", "MV"; undefined when it is none of those known. */
export function capitalUnit(text: string): string | undefined {
  const plain = text.trim();
  if (!/^[A-Z]{1,2}$/u.test(plain) || KNOWN.has(plain)) return undefined;
  return [...KNOWN].find((unit) => unit.toUpperCase() === plain);
}

/** Reads a cell under a decimal mark; thousands grouped by the other mark, a space or an apostrophe are accepted. */
export function readCell(raw: string, decimal: DecimalMark): Cell {
  if (raw.length > LONGEST_CELL) return undefined;
  const text = raw.trim().replace(/^\u2212/u, '-');
  if (MISSING.test(text)) return 'missing';
  const plain = PLAIN[decimal].exec(text);
  if (plain) {
    const [, sign, digits, exponent = '0', unitText] = plain;
    const unit = unitText === undefined ? undefined : knownUnit(unitText);
    if (unitText !== undefined && unit === undefined) return undefined;
    const value = Number(`${sign}${digits.replace(',', '.')}e${exponent}`);
    return Number.isFinite(value) ? { value, unit } : undefined;
  }
  const grouped = GROUPED[decimal].exec(text);
  if (!grouped) return undefined;
  const [, sign, whole, fraction = ''] = grouped;
  return {
    value: Number(`${sign}${whole.replace(/\D/gu, '')}${fraction.replace(',', '.')}`),
    unit: undefined,
  };
}
