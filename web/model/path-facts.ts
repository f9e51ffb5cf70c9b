import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import { strobeUncertainties } from '../../engine/strobe/envelope.ts';

export type PathPart = 'drivers' | 'mat' | 'wire' | 'amplifier' | 'detector' | 'latch';

export const PATH_TITLES: Readonly<Record<PathPart, string>> = {
  drivers: 'Drivers',
  mat: 'Mat',
  wire: 'Sense wire',
  amplifier: 'Amplifier',
  detector: 'Detector',
  latch: 'Latch',
};

const WINDINGS: Readonly<Record<string, string>> = {
  'shared-one-run': 'one run',
  'shared-two-halves': 'two halves',
  'separate-diagonal': 'diagonal',
  'separate-rectangular': 'rectangular',
  custom: 'as threaded',
};

/** Two facts of each part of the signal path. `strobe`: s, where the latch looks. */
export function pathFacts(design: Design, strobe: number | undefined): Readonly<Record<PathPart, string>> {
  const { drive, mat, winding, terminations: ends, amplifier, detector } = design;
  const ohms = (value: number) => (value === Infinity ? 'open' : formatQuantity(value, 'ohm', 3));
  const known = strobeUncertainties(design);
  return {
    drivers: `${formatQuantity(drive.x.readAmplitude, 'A', 3)}, ${formatQuantity(drive.x.rise, 's', 3)} edges`,
    mat: `${mat.rows} × ${mat.columns}, ${WINDINGS[winding.kind] ?? winding.kind}`,
    wire: ends.a === ends.b ? `${ohms(ends.a)} at both ends` : `${ohms(ends.a)} and ${ohms(ends.b)}`,
    amplifier: `${formatQuantity(amplifier.bandwidth, 'Hz', 3)}, × ${Number(amplifier.gain.toPrecision(3))}, ${amplifier.polarity === 'either' ? 'either sign' : 'sign by address'}`,
    detector: `${formatQuantity(detector.threshold, 'V', 3)} ± ${formatQuantity(known.threshold, 'V', 2)}`,
    latch:
      strobe === undefined
        ? 'strobe being sought'
        : `strobe ${formatQuantity(strobe, 's', 3)} ± ${formatQuantity(known.guard, 's', 2)}`,
  };
}
