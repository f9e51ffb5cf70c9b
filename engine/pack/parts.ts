import { formatQuantity } from '../base/format-quantity.ts';
import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { lineInductance } from '../drive/line-voltage.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { cycleCharge, peakNeeds, supplyCurrent } from '../estimates/supply-needs.ts';
import { isShared } from '../mat/winding.ts';
import { lineResistance } from '../mat/wire-at-temperature.ts';
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

/** Sizes of parts in millimetres, as they are sold. */
const millimetres = (metres: number): string => `${Number((metres * 1e3).toPrecision(3))} mm`;
const watts = (value: number): string => q(value, 'V', 2).replace(/V$/u, 'W');
const joules = (value: number): string => q(value, 'V', 2).replace(/V$/u, 'J');

/** Number of the American wire gauge nearest to a bare diameter, m: d = 0.127 mm x 92^((36 - n)/39) (ASTM B258). */
export const nearestGauge = (diameter: number): number =>
  Math.round(36 - (39 * Math.log(diameter / 0.127e-3)) / Math.log(92));

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

/** Wires that carry inhibit, each with a driver: a mat has one, or one a half, or one a segment of a shared wire. */
function inhibitWires({ mat, winding }: Design): number {
  if (winding.kind === 'shared-two-halves') return 2 * mat.mats;
  return mat.mats * (isShared(winding) ? winding.segments : 1);
}

function drivers(design: Design): Part[] {
  const { mat, drive } = design;
  const levels = driveLevels(design);
  return driveNeeds(design).map(({ line, needed, onEdge, onTop, power }): Part => {
    const d = drive[line];
    const amperes =
      line === 'inhibit'
        ? q(levels.inhibit, 'A')
        : `${q(levels[line].read, 'A')} read, ${q(levels[line].write, 'A')} write`;
    const top =
      line === 'inhibit'
        ? 'when the current stands'
        : mat.mats === 1
          ? 'while a ONE switches'
          : `while ONEs switch in ${mat.mats} mats`;
    return {
      group: 'drivers',
      what: line === 'inhibit' ? 'drivers of inhibit' : `drivers of ${line.toUpperCase()}, both ways`,
      count: line === 'x' ? mat.rows : line === 'y' ? mat.columns : inhibitWires(design),
      value: `${amperes}; ${q(needed, 'V')} into the ${line === 'inhibit' ? 'wire' : 'line'}, ${watts(power.driver)} beside it`,
      note: `${q(onEdge, 'V')} on an edge of ${q(Math.min(d.rise, d.fall), 's')}, ${q(onTop, 'V')} ${top}; heat if one address is cycled for ever, with whatever sets the current`,
    };
  });
}

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
const rated = (watts: number): string => {
  const rating = RATINGS.find((r) => r >= 2 * watts);
  return rating === undefined ? `${Math.ceil(2 * watts)} W` : `${rating} W`;
};

function resistors(design: Design): Part[] {
  const { drive, mat, terminations, cycle, winding } = design;
  const duty = (cycle.readWidth + cycle.writeWidth) / cycle.period;
  const parts: Part[] = (['x', 'y'] as const).flatMap((line): Part[] => {
    const count = line === 'x' ? mat.rows : mat.columns;
    const levels = driveLevels(design)[line];
    const ohms = seriesOhms(design, line);
    if (!(ohms > 0)) return [];
    const taken = Math.max(levels.read, levels.write) ** 2 * ohms * duty;
    const set =
      drive[line].source.kind === 'voltage'
        ? 'sets the current'
        : `sets the current from ${q(design.supply.voltage, 'V')} if the driver is a switch; not needed with a true current source`;
    return [
      {
        group: 'resistors',
        what: `series resistors of ${line.toUpperCase()}`,
        count,
        value: `${q(nearestE96(ohms), 'ohm')}, 1 %, ${rated(taken)}`,
        note: `${watts(taken)} if one address is cycled for ever; ${set}`,
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
        value: `${q(nearestE96(ohms), 'ohm')}, 1 %, ${rated(end ** 2 / ohms)}, no inductance`,
        note: `${watts(end ** 2 / ohms)} on average with every write inhibited; both ends alike to 1 %, or common voltage turns into signal`,
      });
  return parts;
}

/** ohm between supply and line that leave the design's read current when all is settled. */
function seriesOhms(design: Design, line: 'x' | 'y'): number {
  const { source } = design.drive[line];
  if (source.kind === 'voltage') return source.resistance;
  return design.supply.voltage / driveLevels(design)[line].read - lineResistance(design, line);
}

/** V rms at one end of a shared wire over a cycle with an inhibited write: half of both edges, half of the drop between. */
function terminationLoad(design: Design): number {
  const { drive, cycle, winding } = design;
  const needs = driveNeeds(design).find(({ line }) => line === 'inhibit');
  if (!isShared(winding) || needs === undefined) return 0;
  const limit = Math.min(drive.inhibit.clamp, needs.onEdge / 2);
  const edges = drive.inhibit.rise + drive.inhibit.fall;
  const width = drive.inhibit.lead + cycle.writeWidth + drive.inhibit.lag;
  return Math.sqrt((limit ** 2 * edges + (needs.onTop / 2) ** 2 * width) / cycle.period);
}

function clamps(design: Design): Part[] {
  const { mat, drive } = design;
  const parts = (['x', 'y'] as const).map((line): Part => {
    const { read, write } = driveLevels(design)[line];
    const level = Math.max(read, write);
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

function supply(design: Design): Part[] {
  const { mat } = design;
  const peak = peakNeeds(design);
  const charge = cycleCharge(design, mat.mats).total;
  return [
    {
      group: 'supply',
      what: 'drive supply',
      count: 1,
      value: `${q(design.supply.voltage, 'V')}, ${q(supplyCurrent(design, 1 / design.cycle.period), 'A')} on average, limited to ${q(design.supply.budget, 'A')}`,
      note: 'every bit ZERO in every cycle; a current limit that trips spares wires when a driver sticks',
    },
    {
      group: 'supply',
      what: 'reservoir',
      count: 1,
      value: `${q(peak.reservoir, 'F')}, low inductance, beside the drivers`,
      note: `${q(charge, 'C')} a cycle for 1 % of sag; ${q(peak.current, 'A')} at the worst instant`,
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
