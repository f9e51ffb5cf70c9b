import Qty from 'js-quantities';

/**
 * Text with a unit to SI numbers. Numbers are read here, units by js-quantities; the answer for a unit is
 * remembered, so that a design of two hundred quantities costs two hundred look-ups.
 */

/** SI unit of every dimension a design or a handbook uses, with its name in a sentence. */
export const DIMENSIONS = {
  s: 'a time',
  V: 'a voltage',
  A: 'a current',
  ohm: 'a resistance',
  H: 'an inductance',
  F: 'a capacitance',
  S: 'a conductance',
  Wb: 'a flux',
  m: 'a length',
  Hz: 'a frequency',
  C: 'a charge',
  W: 'a power',
  'A/m': 'a magnetic field',
  'V/s': 'a voltage slope',
  '1/K': 'a change per kelvin',
  '°C': 'a temperature',
  K: 'a temperature difference',
  dB: 'a ratio in dB',
  '1': 'a plain number',
} as const;
export type Unit = keyof typeof DIMENSIONS;

/** Longest text that is read: unit libraries parse in more than linear time. */
export const QUANTITY_LENGTH = 40;

export type QuantityReading =
  | { readonly ok: true; readonly value: number }
  /** `why` completes "… but ": what was received and why it does not do. */
  | { readonly ok: false; readonly why: string };

interface KnownUnit {
  readonly unit: Unit | undefined;
  /** SI value of one such unit. */
  readonly scale: number;
  /** log10(scale) where that is a whole number, so that "40 ns" is exactly 4e-8. */
  readonly power: number | undefined;
}

const NUMBER = /^([+-]?)(\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE]([+-]?\d{1,3}))?(?![\d.,])\s*(.*)$/su;
const known = new Map<string, KnownUnit | undefined>();

/**
 * Reads a quantity into SI: "370 mA" -> 0.37 for unit "A". Comma or point; "us", "µs"; "ohm", "Ω"; mil; Oe; % and
 * ppm per kelvin; "25 °C", "25 degC" and "298.15 K" as temperatures. A bare number is refused, and so is any
 * other dimension, an unknown unit, more than 40 characters, and "1,250 us" (a thousand or one and a quarter?).
 */
export function readQuantity(text: string, unit: Unit): QuantityReading {
  if (text.length > QUANTITY_LENGTH)
    return refuse(`has ${text.length} characters where at most ${QUANTITY_LENGTH} are read`);
  const shown = `is ${JSON.stringify(text)}`;
  const match = NUMBER.exec(text.trim().replace(/^\u2212/u, '-'));
  if (!match) return refuse(`${shown}, which does not start with a number`);
  const [, sign = '', digits = '', exponent = '0', unitText = ''] = match;
  if (/^[1-9]\d{0,2},\d{3}$/u.test(digits))
    return refuse(
      `${shown}, which could be read in two ways (write "${digits.replace(',', '')}" or "${digits.replace(',', '.')}")`,
    );
  if (unitText === '') return refuse(`${shown}, a bare number without a unit`);
  const found = lookUp(unitText);
  if (!found) return refuse(`${shown}, whose unit "${unitText}" is not known`);
  const number = `${sign}${digits.replace(',', '.')}`;
  if (unit === '°C') return readTemperature(Number(`${number}e${exponent}`), found, shown);
  if (found.unit === '°C' && unit === 'K') return finite(Number(`${number}e${exponent}`), shown);
  if (found.unit !== unit)
    return refuse(found.unit ? `${shown}, ${DIMENSIONS[found.unit]}` : `${shown}, another kind of quantity`);
  const value =
    found.power === undefined
      ? Number(`${number}e${exponent}`) * found.scale
      : Number(`${number}e${Number(exponent) + found.power}`);
  return finite(value, shown);
}

/**
 * A period in seconds, from a time or from a rate: "4 us" and "250 kHz" are both 4e-6. A rate is told by its unit
 * (Hz with any prefix) and must be above nought.
 */
export function readPeriod(text: string): QuantityReading {
  if (!/Hz\s*$/u.test(text)) return readQuantity(text, 's');
  const rate = readQuantity(text, 'Hz');
  if (!rate.ok) return rate;
  const shown = `is ${JSON.stringify(text)}`;
  if (!(rate.value > 0)) return refuse(`${shown}, and only a rate above 0 Hz has a period`);
  return finite(1 / rate.value, shown);
}

/**
 * A quantity as text to its SI number, as readQuantity does: parseQuantity('370 mA', 'A') is 0.37. Throws a RangeError
 * with one sentence: for handbook values, options and scripts.
 */
export function parseQuantity(text: string, unit: Unit): number {
  const reading = readQuantity(text, unit);
  if (reading.ok) return reading.value;
  throw new RangeError(`A quantity must be ${DIMENSIONS[unit]} with its unit (${unit}), but ${reading.why}.`);
}

const refuse = (why: string): QuantityReading => ({ ok: false, why });

const finite = (value: number, shown: string): QuantityReading =>
  Number.isFinite(value) ? { ok: true, value: value + 0 } : refuse(`${shown}, which is too large`);

/** "25 degC" is an interval to unit libraries and a temperature to everybody else. */
function readTemperature(number: number, found: KnownUnit, shown: string): QuantityReading {
  if (found.unit === '°C') return finite(number, shown);
  if (found.unit === 'K') return finite(number - 273.15, shown);
  if (found.unit === 'C' && found.scale === 1) return finite(number, shown);
  return refuse(found.unit ? `${shown}, ${DIMENSIONS[found.unit]}` : `${shown}, another kind of quantity`);
}

function lookUp(text: string): KnownUnit | undefined {
  if (known.has(text)) return known.get(text);
  if (known.size > 500) known.clear();
  const found = identify(normalise(text));
  known.set(text, found);
  return found;
}

/** One spelling of each unit. Both code points of micro and of ohm; "mΩ" must not become metre-ohm. */
function normalise(text: string): string {
  return text
    .trim()
    .replace(/[\u00B5\u03BC]/gu, 'u')
    .replace(/[\u03A9\u2126]/gu, 'ohm')
    .replace(/Ohms?\b|ohms\b/gu, 'ohm')
    .replace(/\u00B0\s*C|\bdeg\s*C\b/gu, 'degC')
    .replace(/[\u00B7\u22C5\u00D7]/gu, '*')
    .replace(/\s*([*/])\s*/gu, '$1')
    .replace(/\s+/gu, '*');
}

function identify(unit: string): KnownUnit | undefined {
  if (unit === 'degC') return { unit: '°C', scale: 1, power: 0 };
  if (unit === 'K' || unit === 'degK') return { unit: 'K', scale: 1, power: 0 };
  if (unit === 'dB') return { unit: 'dB', scale: 1, power: 0 };
  if (unit === '%') return { unit: '1', scale: 0.01, power: -2 };
  if (unit === 'ppm') return { unit: '1', scale: 1e-6, power: -6 };
  const perKelvin = /^(1|%|ppm)\/(?:K|degC|degK)$/u.exec(unit);
  if (perKelvin) {
    const power = perKelvin[1] === '%' ? -2 : perKelvin[1] === 'ppm' ? -6 : 0;
    return { unit: '1/K', scale: 10 ** power, power };
  }
  if (!/^[A-Za-z][A-Za-z*/^0-9]*$/u.test(unit) || unit.length > 16) return undefined;
  return askLibrary(unit);
}

const asked: readonly Unit[] = ['s', 'V', 'A', 'ohm', 'H', 'F', 'S', 'Wb', 'm', 'Hz', 'C', 'W', 'A/m', 'V/s'];

function askLibrary(text: string): KnownUnit | undefined {
  let quantity: Qty;
  try {
    quantity = Qty(`1 ${text}`);
  } catch {
    return undefined;
  }
  const scale = quantity.toBase().baseScalar;
  const power = Math.round(Math.log10(scale));
  return {
    unit: asked.find((candidate) => quantity.isCompatible(candidate)),
    scale,
    power: Math.abs(scale / 10 ** power - 1) < 1e-12 ? power : undefined,
  };
}
