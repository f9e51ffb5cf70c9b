import { resistanceFactor } from '../core/straight-wires.ts';
import type { Design } from '../design/design.ts';

/** ohm per core pitch of the sense wire at the design's temperature: copper follows it, stated value or not. */
export const senseResistance = ({ wire, temperature }: Design): number =>
  wire.resistancePerCore * resistanceFactor(wire.material, temperature);

/** ohm of a drive line itself at the design's temperature. */
export const lineResistance = ({ drive, wire, temperature }: Design, line: 'x' | 'y'): number =>
  drive[line].resistance * resistanceFactor(wire.material, temperature);
