import type { Unit } from '../../../engine/base/units.ts';
import type { Part } from '../../state/atoms.ts';
import type { SliderReach } from './slider-scale.ts';

/** An input of a part: the first pointer is read, all are written; `also` only where the design states them. */
export interface PartField {
  readonly label: string;
  readonly pointers: readonly string[];
  readonly also?: readonly string[];
  readonly options?: readonly (readonly [value: string, text: string])[];
  /** Of a quantity: its SI unit, and how far its slider goes; left out: it has none. */
  readonly unit?: Unit;
  readonly reach?: SliderReach;
}

const RATIO: SliderReach = { kind: 'ratio' };
const between = (low: number, high: number, step: number): SliderReach => ({
  kind: 'between',
  low,
  high,
  step,
});

const one = (label: string, pointer: string, unit?: Unit, reach?: SliderReach): PartField => ({
  label,
  pointers: [pointer],
  ...(unit ? { unit } : {}),
  ...(reach ? { reach } : {}),
});

/** What a part's card holds at first; everything else is among all inputs. */
export const PART_FIELDS: Readonly<Record<Part, readonly PartField[]>> = {
  drivers: [
    {
      label: 'Current of each line',
      pointers: ['/drive/x/readAmplitude', '/drive/y/readAmplitude'],
      also: ['/drive/x/writeAmplitude', '/drive/y/writeAmplitude'],
      unit: 'A',
      reach: RATIO,
    },
    {
      label: 'Edge time',
      pointers: ['/drive/x/rise', '/drive/x/fall', '/drive/y/rise', '/drive/y/fall'],
      unit: 's',
      reach: RATIO,
    },
    one('Y after X', '/cycle/stagger', 's', between(0, 200e-9, 1e-9)),
    one('Temperature', '/temperature', '°C', between(0, 50, 1)),
  ],
  mat: [
    {
      label: 'Size',
      pointers: ['/mat/rows', '/mat/columns'],
      options: [4, 8, 16, 32, 64, 128, 256].map((n) => [String(n), `${n} × ${n}`] as const),
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
    one('Termination at A', '/terminations/a', 'ohm', RATIO),
    one('Termination at B', '/terminations/b', 'ohm', RATIO),
    one('Resistance per core', '/wire/resistancePerCore', 'ohm'),
  ],
  amplifier: [one('Bandwidth', '/amplifier/bandwidth', 'Hz', RATIO), one('Gain', '/amplifier/gain')],
  detector: [
    one('Threshold', '/detector/threshold', 'V', RATIO),
    one('Known to', '/detector/uncertainty', 'V'),
    one('Delay', '/detector/delay', 's'),
  ],
  latch: [
    one('Strobe', '/strobe/time', 's', between(0, 400e-9, 1e-9)),
    one('Jitter', '/strobe/jitter', 's'),
    one('Aperture', '/strobe/aperture', 's'),
  ],
};
