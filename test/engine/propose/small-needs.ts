/** Invented needs of four words of one bit: small enough to be searched in seconds. */
export const SMALL_NEEDS = {
  name: 'Four words',
  words: 4,
  bits: 1,
  mat: { rows: 2, columns: 2 },
  cores: [{ preset: 'ferrite-30-mil' }],
  cycle: '10 us',
  temperature: { from: '20 degC', to: '30 degC' },
  supply: { voltage: '24 V', budget: '2 A' },
  drivers: { track: true },
  wire: { diameter: '0.12 mm', bareDiameter: '0.1 mm' },
  amplifier: { most: 1 },
  want: { yield: 0.5 },
} as const;
