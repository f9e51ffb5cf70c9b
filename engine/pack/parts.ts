import { driveLevels } from '../drive/at-temperature.ts';
import { lineInductance, steepest } from '../drive/line-voltage.ts';
import { lineResistance, senseResistance } from '../mat/wire-at-temperature.ts';
import { wireDelay } from '../network/sections.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import { cycleCharge } from '../estimates/build-numbers.ts';
import type { Design, LineDrive } from '../design/design.ts';
import { predictedOne } from '../estimates/bell.ts';
import { metresOf, type Threading } from './threading.ts';

/** One line of the list of parts. */
export interface Part {
  readonly group: 'cores and wire' | 'drivers' | 'resistors' | 'clamps' | 'supply' | 'sense';
  readonly what: string;
  readonly count: number;
  /** "kind, value, limits", in words with units. */
  readonly value: string;
  /** What it must bear, or how the number was found. */
  readonly note: string;
}

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

const q = (value: number, unit: Parameters<typeof formatQuantity>[1], digits = 3): string =>
  formatQuantity(value, unit, digits);

const watts = (value: number): string => q(value, 'V', 2).replace(/V$/u, 'W');
const joules = (value: number): string => q(value, 'V', 2).replace(/V$/u, 'J');

/** Number of the American wire gauge nearest to a bare diameter, m: d = 0.127 mm x 92^((36 - n)/39) (ASTM B258). */
export const nearestGauge = (diameter: number): number =>
  Math.round(36 - (39 * Math.log(diameter / 0.127e-3)) / Math.log(92));

function coresAndWire({ core, mat, wire }: Design, threading: Threading): Part[] {
  const cores = threading.cores.filter((c) => c.present).length * mat.mats;
  const { outsideDiameter, insideDiameter, height } = core.parameters;
  const size = [outsideDiameter, insideDiameter, height].map((d) => q(d, 'm')).join(' / ');
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
      value: `${wire.material}, ${q(wire.bareDiameter, 'm')} bare, ${q(wire.diameter, 'm')} over the enamel (about gauge ${nearestGauge(wire.bareDiameter)}), ${q(1.1 * metresOf(threading), 'm')}`,
      note: `X ${metres('x')}, Y ${metres('y')}, sense ${metres('sense')}${kinds}, slack and ends counted; a tenth for what goes wrong`,
    },
  ];
}

/** What one drive line asks of its driver, V: the edge, or the flat top with a ONE in every mat. */
export function lineVolts(design: Design, line: 'x' | 'y'): { readonly edge: number; readonly flat: number } {
  const d = design.drive[line];
  const level = peakOf(design, line);
  const drop = level * lineResistance(design, line);
  return {
    edge: (lineInductance(design, line) * level * steepest(d.edge)) / d.rise + drop,
    flat: drop + design.mat.mats * predictedOne(design),
  };
}

const peakOf = (design: Design, line: 'x' | 'y'): number => {
  const level = driveLevels(design)[line];
  return Math.max(level.read, level.write);
};

/** V that one inhibit wire asks of its driver on its edge, and when its current stands. */
export function inhibitVolts(design: Design): { readonly edge: number; readonly flat: number } {
  const { wire, drive, mat, winding, core } = design;
  const shared = winding.kind.startsWith('shared') || winding.shared === true;
  const cores =
    (mat.rows * mat.columns) / (winding.kind === 'shared-two-halves' ? 2 : shared ? winding.segments : 1);
  const { elasticKnee, elasticSaturated } = core.parameters;
  const level = driveLevels(design).inhibit;
  const flat = cores * senseResistance(design) * level;
  const inductance = cores * (wire.inductancePerCore + (elasticKnee + elasticSaturated) / 2);
  return { edge: (inductance * level * steepest(drive.inhibit.edge)) / drive.inhibit.rise + flat, flat };
}

/** Wires that carry inhibit, each with a driver: a mat has one, or one a half, or one a segment of a shared wire. */
function inhibitWires({ mat, winding }: Design): number {
  if (winding.kind === 'shared-two-halves') return 2 * mat.mats;
  const shared = winding.kind.startsWith('shared') || winding.shared === true;
  return mat.mats * (shared ? winding.segments : 1);
}

function drivers(design: Design): Part[] {
  const { mat, drive } = design;
  const line = (name: 'x' | 'y', count: number): Part => {
    const { edge, flat } = lineVolts(design, name);
    const d = drive[name];
    return {
      group: 'drivers',
      what: `drivers of ${name.toUpperCase()}, both ways`,
      count,
      value: `${q(driveLevels(design)[name].read, 'A')} read, ${q(driveLevels(design)[name].write, 'A')} write; ${q(Math.max(edge, flat), 'V')} into the line`,
      note: `${q(edge, 'V')} on an edge of ${q(Math.min(d.rise, d.fall), 's')}, ${q(flat, 'V')} while ${mat.mats === 1 ? 'a ONE switches' : `ONEs switch in ${mat.mats} mats`}; what sets the current comes on top`,
    };
  };
  const { edge, flat } = inhibitVolts(design);
  return [
    line('x', mat.rows),
    line('y', mat.columns),
    {
      group: 'drivers',
      what: 'drivers of inhibit',
      count: inhibitWires(design),
      value: `${q(driveLevels(design).inhibit, 'A')}; ${q(Math.max(edge, flat), 'V')} into the wire`,
      note: `${q(edge, 'V')} on an edge of ${q(drive.inhibit.rise, 's')}, ${q(flat, 'V')} when the current stands`,
    },
  ];
}

const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

/** The nearest value of the E24 series (IEC 60063), ohm. */
export function nearestE24(ohms: number): number {
  const decade = 10 ** (Math.floor(Math.log10(ohms)) - 1);
  const near = [...E24, 100].map((step) => step * decade);
  return near.reduce((best, value) =>
    Math.abs(Math.log(value / ohms)) < Math.abs(Math.log(best / ohms)) ? value : best,
  );
}

const RATINGS = [0.125, 0.25, 0.5, 1, 2, 3, 5, 7, 10, 15, 25, 50];
/** A resistor is chosen for twice what it takes. */
const rated = (watts: number): string => {
  const rating = RATINGS.find((r) => r >= 2 * watts);
  return rating === undefined ? `${Math.ceil(2 * watts)} W` : `${rating} W`;
};

function resistors(design: Design): Part[] {
  const { drive, mat, terminations, cycle, winding } = design;
  const duty = (cycle.readWidth + cycle.writeWidth) / cycle.period;
  const parts: Part[] = (['x', 'y'] as const).flatMap((line): Part[] => {
    const count = line === 'x' ? mat.rows : mat.columns;
    const level = peakOf(design, line);
    const ohms = seriesOhms(design, line);
    if (!(ohms > 0)) return [];
    const taken = level ** 2 * ohms * duty;
    return [
      {
        group: 'resistors',
        what: `series resistors of ${line.toUpperCase()}`,
        count,
        value: `${q(nearestE24(ohms), 'ohm')} (exactly ${q(ohms, 'ohm')}), 1 %, ${rated(taken)}`,
        note: `${watts(taken)} if one address is cycled for ever; ${drive[line].source.kind === 'voltage' ? 'sets the current' : `sets the current from ${q(design.supply.voltage, 'V')} if the driver is a switch; not needed with a true current source`}`,
      },
    ];
  });
  const end = terminationLoad(design);
  const ends = [
    ['A', terminations.a],
    ['B', terminations.b],
    ...(winding.kind === 'shared-two-halves' ? [['joint', terminations.joint] as const] : []),
  ] as const;
  for (const [name, ohms] of ends)
    if (Number.isFinite(ohms) && ohms > 0)
      parts.push({
        group: 'resistors',
        what: `termination ${name}`,
        count: mat.mats * (winding.kind === 'shared-two-halves' ? 1 : winding.segments),
        value: `${q(nearestE24(ohms), 'ohm')} (exactly ${q(ohms, 'ohm')}), 1 %, ${rated(end ** 2 / ohms)}, no inductance`,
        note: `${watts(end ** 2 / ohms)} on average with every write inhibited; both ends alike to 1 %, or common voltage turns into signal`,
      });
  return parts;
}

/** ohm between supply and line that leave the design's current when all is settled. */
function seriesOhms(design: Design, line: 'x' | 'y'): number {
  const d: LineDrive = design.drive[line];
  if (d.source.kind === 'voltage') return d.source.resistance;
  return design.supply.voltage / peakOf(design, line) - lineResistance(design, line);
}

/** V rms at one end of the wire over a cycle: both edges of the inhibit and the drop between them, halved to either end. */
function terminationLoad(design: Design): number {
  const { drive, cycle, winding, wire } = design;
  if (!winding.kind.startsWith('shared') && winding.shared !== true) return 0;
  const { edge, flat } = inhibitVolts(design);
  const limit = Math.min(drive.inhibit.clamp, (edge - flat) / 2);
  const ringing =
    2 * (drive.inhibit.rise + wireDelay(design, design.mat.rows * design.mat.columns) + wire.cable.delay);
  const width = drive.inhibit.lead + cycle.writeWidth + drive.inhibit.lag;
  return Math.sqrt((limit ** 2 * ringing + (flat / 2) ** 2 * width) / cycle.period);
}

function clamps(design: Design): Part[] {
  const { mat, drive } = design;
  const parts = (['x', 'y'] as const).map((line): Part => {
    const level = peakOf(design, line);
    const energy = (lineInductance(design, line) * level ** 2) / 2;
    return {
      group: 'clamps',
      what: `clamps of ${line.toUpperCase()}`,
      count: 2 * (line === 'x' ? mat.rows : mat.columns),
      value: `fast diodes to a rail of ${q(drive[line].clamp, 'V')}, ${q(level, 'A')} peak`,
      note: `one for each way of the current; ${joules(energy)} at every turn-off`,
    };
  });
  const level = driveLevels(design).inhibit;
  parts.push({
    group: 'clamps',
    what: 'clamps of inhibit',
    count: inhibitWires(design),
    value: Number.isFinite(drive.inhibit.clamp)
      ? `${q(drive.inhibit.clamp, 'V')} across the driven ends, ${q(level, 'A')} peak`
      : `none in the design; a fast diode to the rail protects the driver, ${q(level, 'A')} peak`,
    note: 'must not conduct while the wire is read',
  });
  return parts;
}

/** V by which the supply may sag within one cycle. */
const SAG = 0.01;

function supply(design: Design): Part[] {
  const { mat, winding } = design;
  const levels = driveLevels(design);
  const charge = cycleCharge(design, mat.mats).total;
  const halves = winding.kind === 'shared-two-halves' ? 2 : 1;
  const peak = Math.max(
    levels.x.write + levels.y.write + mat.mats * halves * levels.inhibit,
    levels.x.read + levels.y.read,
  );
  return [
    {
      group: 'supply',
      what: 'drive supply',
      count: 1,
      value: `${q(design.supply.voltage, 'V')}, ${q(design.supply.quiescent + charge / design.cycle.period, 'A')} on average, limited to ${q(design.supply.budget, 'A')}`,
      note: 'every bit ZERO in every cycle; a current limit that trips spares wires when a driver sticks',
    },
    {
      group: 'supply',
      what: 'reservoir',
      count: 1,
      value: `${q(charge / (SAG * design.supply.voltage), 'F')}, low inductance, beside the drivers`,
      note: `${q(charge, 'C')} a cycle for ${SAG * 100} % of sag; ${q(peak, 'A')} at the worst instant`,
    },
    {
      group: 'supply',
      what: 'decoupling',
      count: mat.rows + mat.columns + inhibitWires(design),
      value: '100 nF ceramic at every driver',
      note: 'common practice, no source',
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
