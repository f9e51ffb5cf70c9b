import type { Part } from '../../state/atoms.ts';

/** An input of a part: the first pointer is read, all are written; `also` only where the design states them. */
export interface PartField {
  readonly label: string;
  readonly pointers: readonly string[];
  readonly also?: readonly string[];
  readonly options?: readonly (readonly [value: string, text: string])[];
}

const one = (label: string, pointer: string): PartField => ({ label, pointers: [pointer] });

/** What a part's card holds at first; everything else is among all inputs. */
export const PART_FIELDS: Readonly<Record<Part, readonly PartField[]>> = {
  drivers: [
    {
      label: 'Current of each line',
      pointers: ['/drive/x/readAmplitude', '/drive/y/readAmplitude'],
      also: ['/drive/x/writeAmplitude', '/drive/y/writeAmplitude'],
    },
    { label: 'Edge time', pointers: ['/drive/x/rise', '/drive/x/fall', '/drive/y/rise', '/drive/y/fall'] },
    one('Y after X', '/cycle/stagger'),
    one('Temperature', '/temperature'),
  ],
  mat: [
    {
      label: 'Size',
      pointers: ['/mat/rows', '/mat/columns'],
      options: [4, 8, 16, 32, 64, 128].map((n) => [String(n), `${n} × ${n}`] as const),
    },
    {
      label: 'Winding',
      pointers: ['/winding/kind'],
      options: [
        ['shared-one-run', 'shared, one run'],
        ['shared-two-halves', 'shared, two halves'],
        ['separate-diagonal', 'separate, diagonal'],
        ['separate-rectangular', 'separate, rectangular'],
      ],
    },
    one('Mats', '/mat/mats'),
  ],
  wire: [
    one('Termination at A', '/terminations/a'),
    one('Termination at B', '/terminations/b'),
    one('Resistance per core', '/wire/resistancePerCore'),
  ],
  amplifier: [one('Bandwidth', '/amplifier/bandwidth'), one('Gain', '/amplifier/gain')],
  detector: [
    one('Threshold', '/detector/threshold'),
    one('Known to', '/detector/uncertainty'),
    one('Delay', '/detector/delay'),
  ],
  latch: [
    one('Strobe', '/strobe/time'),
    one('Jitter', '/strobe/jitter'),
    one('Aperture', '/strobe/aperture'),
  ],
};
