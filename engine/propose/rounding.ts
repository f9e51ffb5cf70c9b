/** Values as they are bought and set. */

/** IEC 60063, series E24: the 24 values of a decade. */
const E24 = [
  1, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2, 2.2, 2.4, 2.7, 3, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2,
  9.1,
];
const E6 = [1, 1.5, 2.2, 3.3, 4.7, 6.8];

/** The nearest resistor of E24, ohm, by ratio. */
export function nearestResistor(ohm: number): number {
  const decade = 10 ** Math.floor(Math.log10(ohm));
  const all = [...E24, 10].map((value) => clean(value * decade));
  return all.reduce((best, value) =>
    Math.abs(Math.log(value / ohm)) < Math.abs(Math.log(best / ohm)) ? value : best,
  );
}

/** The least capacitor of E6 that is no smaller, F. */
export function capacitorFor(farad: number): number {
  const decade = 10 ** Math.floor(Math.log10(farad) + 1e-12);
  return [...E6, 10].map((value) => clean(value * decade)).find((value) => value >= farad * (1 - 1e-9))!;
}

/** The nearest multiple of a step, without the digits that a sum of doubles leaves behind. */
export const onGrid = (value: number, step: number): number => clean(Math.round(value / step) * step);

/** The least multiple that is no smaller. */
export const upToGrid = (value: number, step: number): number => clean(Math.ceil(value / step - 1e-6) * step);

export const clean = (value: number): number => Number(value.toPrecision(9));
