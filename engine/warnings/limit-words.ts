import { formatQuantity } from '../base/format-quantity.ts';
import type { Constraint, ConstraintCode } from '../estimates/constraints/constraint.ts';

/** What a build must keep to, in few words: a constraint of `check`, or the cycle that was asked for. */
export interface Limited extends Pick<Constraint, 'used' | 'limit' | 'unit'> {
  readonly code: ConstraintCode | 'cycle';
}

const LIMITS: Readonly<Record<Limited['code'], string>> = {
  'softest-core': 'flux that the softest core keeps',
  cycle: 'time that read, gap, write and recovery take',
  'half-select-over-knee': 'half-select drive at the knee of the warm core',
  'inhibited-core-over-knee': 'drive of an inhibited core at its knee',
  'inhibit-over-knee': 'inhibit at the knee of the warm core',
  'no-switching': 'drive that makes the core switch at all',
  'read-incomplete': 'time that the slowest core needs in the read',
  'write-incomplete': 'time that the slowest core needs in the write',
  'core-untested': 'stray of a core away from the drive of its data',
  'inhibit-late': 'start of the inhibit before the write',
  'inhibit-short': 'end of the inhibit after the write',
  'disturb-meets-inhibit': 'gap before the disturb pulse',
  'line-volts': 'volts that X and Y lines need',
  'inhibit-volts': 'volts that the inhibit wire needs',
  'inhibit-clamp': 'volts at the inhibit clamp',
  'turn-off-kick': 'kick of a line at turn-off',
  'supply-voltage': 'volts that drivers take of the supply',
  dissipation: 'heat of a driver',
  tracking: 'error of drives that follow the temperature',
  'supply-current': 'average current of the supply',
  'supply-peak': 'peak current of the supply',
  reservoir: 'reservoir beside the drivers',
  'wire-heat': 'heat of the wire',
  'core-heat': 'heat of a core that is always addressed',
  hole: 'wires through the hole of the core',
  recovery: 'recovery before the next read',
  'strobe-outside-read': 'strobe within the read',
  'threshold-above-one': 'threshold under a ONE',
  'amplifier-saturates': 'output of the amplifier',
  mismatch: 'echo at the end of the wire',
  sag: 'sag of the coupling capacitor',
};

/** "average current of the supply 1.42 A of 1.5 A"; a share of flux is one that must be passed. */
export function bindWords({ code, used, limit, unit }: Limited): string {
  const q = (value: number): string =>
    unit === '1' ? `${Number((100 * value).toPrecision(3))} %` : formatQuantity(value, unit, 3);
  return code === 'softest-core'
    ? `${LIMITS[code]}: ${q(limit)}, at least ${q(used)}`
    : `${LIMITS[code]}: ${q(used)} of ${q(limit)}`;
}
