import type { Design } from '../design/design.ts';
import { clamps, drivers, supply } from './drive-parts.ts';
import { millimetres, nearestGauge, q } from './part-values.ts';
import type { Part } from './part.ts';
import { resistors } from './resistors.ts';
import type { Threading } from './threading-result.ts';
import { metresOf } from './threading.ts';

/** Cores more than are needed: a twentieth, ten at least; our own choice. */
const spares = (cores: number): number => Math.max(10, Math.ceil(cores / 20));

/** What to buy, from the design alone. */
export function partsOf(design: Design, threading: Threading): readonly Part[] {
  return [
    ...coresAndWire(design, threading),
    ...drivers(design),
    ...resistors(design),
    ...clamps(design),
    ...supply(design),
    ...sense(design),
  ];
}

function coresAndWire({ core, mat, wire }: Design, threading: Threading): Part[] {
  const cores = threading.cores.filter((c) => c.present).length * mat.mats;
  const { outsideDiameter, insideDiameter, height } = core.parameters;
  const size = `${[outsideDiameter, insideDiameter, height].map((d) => Number((d * 1e3).toPrecision(3))).join(' / ')} mm outside / inside / height`;
  const metres = (kind: Parameters<typeof metresOf>[1]): string => q(metresOf(threading, kind), 'm');
  const kinds = threading.wires.some((w) => w.kind === 'inhibit') ? `, inhibit ${metres('inhibit')}` : '';
  return [
    {
      group: 'cores and wire',
      what: 'cores',
      count: cores + spares(cores),
      value: `${core.name}, ${size}`,
      note: `${cores} in the mats and ${spares(cores)} spare: cores crack`,
    },
    {
      group: 'cores and wire',
      what: 'enamelled wire',
      count: 1,
      value: `${wire.material}, ${millimetres(wire.bareDiameter)} bare, ${millimetres(wire.diameter)} over the enamel (about gauge ${nearestGauge(wire.bareDiameter)}), ${q(1.1 * metresOf(threading), 'm')}`,
      note: `X ${metres('x')}, Y ${metres('y')}, sense ${metres('sense')}${kinds}, slack and ends counted; a tenth for what goes wrong`,
    },
  ];
}

function sense(design: Design): Part[] {
  const { amplifier, detector, mat, winding, strobe } = design;
  return [
    {
      group: 'sense',
      what: 'sense amplifiers with detector and latch',
      count: mat.mats * winding.segments,
      value: `gain ${amplifier.gain}, ${q(amplifier.bandwidth, 'Hz')}, threshold ${q(detector.threshold, 'V')} at the wire`,
      note: `threshold known to ±${q(detector.uncertainty, 'V')}, ${q(detector.delay, 's')} to the latch, aperture ${q(strobe.aperture, 's')}, ${amplifier.commonModeRejection === Infinity ? 'ideal' : q(amplifier.commonModeRejection, 'dB')} of common mode rejection`,
    },
  ];
}
