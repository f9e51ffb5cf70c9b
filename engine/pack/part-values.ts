import { formatQuantity } from '../base/format-quantity.ts';

export const q = (value: number, unit: Parameters<typeof formatQuantity>[1], digits = 3): string =>
  formatQuantity(value, unit, digits);

/** Sizes of parts in millimetres, as they are sold. */
export const millimetres = (metres: number): string => `${Number((metres * 1e3).toPrecision(3))} mm`;
export const watts = (value: number): string => q(value, 'V', 2).replace(/V$/u, 'W');
export const joules = (value: number): string => q(value, 'V', 2).replace(/V$/u, 'J');

/** Number of the American wire gauge nearest to a bare diameter, m: d = 0.127 mm x 92^((36 - n)/39) (ASTM B258). */
export const nearestGauge = (diameter: number): number =>
  Math.round(36 - (39 * Math.log(diameter / 0.127e-3)) / Math.log(92));

/** The nearest value of the E96 series, ohm: 10^(n/96) to three digits, as IEC 60063 has it for parts of 1 %. */
export function nearestE96(ohms: number): number {
  const step = Math.round(96 * Math.log10(ohms));
  return [step - 1, step, step + 1]
    .map((n) => Number((10 ** (n / 96)).toPrecision(3)))
    .reduce((best, value) =>
      Math.abs(Math.log(value / ohms)) < Math.abs(Math.log(best / ohms)) ? value : best,
    );
}

const RATINGS = [0.125, 0.25, 0.5, 1, 2, 3, 5, 7, 10, 15, 25, 50];
/** A resistor is chosen for twice what it takes. */
export const rated = (watts: number): string => {
  const rating = RATINGS.find((r) => r >= 2 * watts);
  return rating === undefined ? `${Math.ceil(2 * watts)} W` : `${rating} W`;
};
