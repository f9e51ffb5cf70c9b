import type { Unit } from './units.ts';

/** Largest power of ten whose prefix a unit takes: nobody says kilosecond. */
const HIGHEST: Partial<Record<Unit, number>> = { s: 0, H: 0, F: 0, Wb: 0, C: 0, m: 0, A: 0, '1': 0 };
const PLAIN: ReadonlySet<Unit> = new Set(['°C', 'K', 'dB', '1', '1/K']);
const PREFIX = new Map([
  [-15, 'f'],
  [-12, 'p'],
  [-9, 'n'],
  [-6, 'µ'],
  [-3, 'm'],
  [0, ''],
  [3, 'k'],
  [6, 'M'],
  [9, 'G'],
]);

/**
 * A quantity for people: prefix chosen, `digits` significant digits without trailing zeros, true minus sign.
 *
 *     formatQuantity(0.37, 'A')        370 mA        formatQuantity(-0.04, 'V')      −40 mV
 *     formatQuantity(2.5e-9, 'H')      2.5 nH        formatQuantity(1.5e-6, 's')     1.5 µs
 *     formatQuantity(100, 'ohm')       100 Ω         formatQuantity(0.99996, 'V')    1 V
 *     formatQuantity(-0.005, '1/K')    −0.5 %/K      formatQuantity(25, '°C')        25 °C
 *     formatQuantity(0, 's')           0 s           formatQuantity(Infinity, 'V')   unlimited
 *     formatQuantity(0.765, '1')       0.765         formatQuantity(NaN, 'V')        not a number
 */
export function formatQuantity(value: number, unit: Unit, digits = 3): string {
  if (Number.isNaN(value)) return 'not a number';
  if (!Number.isFinite(value)) return value > 0 ? 'unlimited' : '−unlimited';
  if (unit === '1/K') return withUnit(round(value * 100, digits), '%/K');
  if (PLAIN.has(unit)) return withUnit(round(value, digits), unit === '1' ? '' : unit);
  const name = unit === 'ohm' ? 'Ω' : unit;
  if (value === 0) return `0 ${name}`;
  const power = prefixPower(value, unit, digits);
  return withUnit(round(value / 10 ** power, digits), `${PREFIX.get(power) ?? ''}${name}`);
}

/** SI: what a run computes means nothing under this; the rounding of nothing would print as femtovolts. */
export const LEAST_TOLD = { V: 1e-6, s: 1e-12 } as const satisfies Partial<Record<Unit, number>>;

/** A computed quantity for people: as above, and `under 1 µV` where it is smaller than any run can tell; nothing is 0 V. */
export function formatFigure(value: number, unit: Unit, digits = 3): string {
  const least = unit === 'V' || unit === 's' ? LEAST_TOLD[unit] : 0;
  const told = value === 0 || !(Math.abs(value) < least);
  return told ? formatQuantity(value, unit, digits) : `under ${formatQuantity(least, unit)}`;
}

/** s from the start of read to a tenth of a nanosecond, as exactly as edges of a window are found. */
export const formatInstant = (time: number): string =>
  formatQuantity(Math.abs(time) < 1 ? Math.round(time * 1e10) / 1e10 : time, 's', 4);

/** A period (s) with the rate it means: formatPeriod(4e-6) is "4 µs (250 kHz)". */
export const formatPeriod = (period: number): string =>
  `${formatQuantity(period, 's')} (${formatQuantity(1 / period, 'Hz')})`;

/**
 * The exact number with a unit, in plain letters, as a design file wants it, so that reading it gives the same
 * double: writeQuantity(4e-8, 's') is "40 ns", writeQuantity(-0.005, '1/K') is "-0.5 %/K".
 */
export function writeQuantity(value: number, unit: Unit): string {
  if (unit === '1') return `${value}`;
  if (unit === '1/K') return `${value === 0 ? 0 : shiftPoint(value, 2)} %/K`;
  if (PLAIN.has(unit)) return `${value} ${unit === '°C' ? 'degC' : unit}`;
  if (value === 0) return `0 ${unit}`;
  const power = prefixPower(value, unit, 17);
  const prefix = power === -6 ? 'u' : (PREFIX.get(power) ?? '');
  return `${shiftPoint(value, -power)} ${prefix}${unit}`;
}

function prefixPower(value: number, unit: Unit, digits: number): number {
  const rounded = Number(Math.abs(value).toPrecision(digits));
  const power = Math.floor(Math.floor(Math.log10(rounded) + 1e-12) / 3) * 3;
  return Math.max(-15, Math.min(HIGHEST[unit] ?? 9, power));
}

function round(value: number, digits: number): string {
  const rounded = Number(value.toPrecision(digits));
  return `${rounded === 0 ? 0 : rounded}`;
}

const withUnit = (number: string, unit: string): string =>
  `${number.replace(/^-/u, '−').replace('e-', 'e−')}${unit === '' ? '' : ` ${unit}`}`;

/** The shortest decimal of a number with its point moved, digit by digit: arithmetic would round once more. */
function shiftPoint(value: number, places: number): string {
  const [mantissa = '0', exponent = '0'] = Math.abs(value).toExponential().split('e');
  const digits = mantissa.replace('.', '');
  const whole = Number(exponent) + places + 1;
  const sign = value < 0 ? '-' : '';
  if (whole > 21 || whole < -6) return `${sign}${mantissa}e${Number(exponent) + places}`;
  if (whole <= 0) return `${sign}0.${'0'.repeat(-whole)}${digits}`;
  const padded = digits.padEnd(whole, '0');
  const fraction = padded.slice(whole);
  return `${sign}${padded.slice(0, whole)}${fraction === '' ? '' : `.${fraction}`}`;
}
