import { predictedOne } from './bell.ts';
import { cycleCharge } from './supply-needs.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { holdVoltage, inhibitWire, riseVoltage, throughWire } from '../drive/inhibit-wire.ts';
import { pulseWidth } from '../drive/pulse-widths.ts';
import { lineInductance, steepest } from '../drive/line-voltage.ts';
import type { Design } from '../design/design.ts';

/** What one driver has to give and to bear at the design's temperature. A line that is used in every cycle. */
export interface DriverNeeds {
  readonly line: 'x' | 'y' | 'inhibit';
  /** A of one driver, the greater of read and write (two halves of an inhibit wire together). */
  readonly current: number;
  /** H and ohm in series with it, all mats; of one half where there are two. */
  readonly inductance: number;
  readonly resistance: number;
  /** V at the end of the rising edge, V while the current stands and ONEs switch in all mats, and the greater of the two. */
  readonly onEdge: number;
  readonly onTop: number;
  readonly needed: number;
  /** V that the falling edge kicks. */
  readonly kick: number;
  readonly power: DriverPower;
}

/** Average W when the line is used in every cycle; the parts add up to `supply`, where that can give what the line needs. */
export interface DriverPower {
  readonly supply: number;
  /** In the wire (and in the terminations across it). */
  readonly wire: number;
  /** In the switching cores of all mats, ONEs throughout. */
  readonly cores: number;
  /** What the line stores, burnt where its current is taken down: in the clamp, and in terminations. */
  readonly clamp: number;
  /** In the resistor of a voltage source. */
  readonly resistor: number;
  /** What is left: transistors, diodes, and the resistors of a current source. */
  readonly driver: number;
}

export const driveNeeds = (design: Design): readonly DriverNeeds[] => [
  lineNeeds(design, 'x'),
  lineNeeds(design, 'y'),
  inhibitNeeds(design),
];

/**
 * One X or Y line (derived): on the edge L I/t_r (times the steepest slope of its shape) + R I with the elastic
 * inductance of every core of all mats in L; on top R I + the peak EMF of a ONE in every mat, which comes after
 * the edge. The clamp burns what the line stores, L I²/2 a pulse; cores take I times 2 phi_r a switching.
 */
function lineNeeds(design: Design, line: 'x' | 'y'): DriverNeeds {
  const { mat, cycle, supply } = design;
  const d = design.drive[line];
  const { read, write } = driveLevels(design)[line];
  const current = Math.max(read, write);
  const inductance = lineInductance(design, line);
  const onEdge = (inductance * current * steepest(d.edge)) / d.rise + current * d.resistance;
  const onTop = current * d.resistance + mat.mats * predictedOne(design);
  const disturbs = line === 'x' && cycle.postWriteDisturb ? 1 : 0;
  const pulses = [
    ...Array.from(
      { length: cycle.reads + disturbs },
      () => [read, pulseWidth(design, line, 'read')] as const,
    ),
    ...Array.from({ length: cycle.writes }, () => [write, pulseWidth(design, line, 'write')] as const),
  ];
  const sum = (f: (current: number, width: number) => number): number =>
    pulses.reduce((total, [i, width]) => total + f(i, width), 0) / cycle.period;
  const meanSquare = sum((i, width) => i * i * width);
  const swing = 2 * design.core.parameters.remanentFlux * mat.mats;
  return {
    line,
    current,
    inductance,
    resistance: d.resistance,
    onEdge,
    onTop,
    needed: Math.max(onEdge, onTop),
    kick: (inductance * current * steepest(d.edge)) / d.fall,
    power: withRest({
      supply: supply.voltage * sum((i, width) => i * width),
      wire: d.resistance * meanSquare,
      cores: (swing * (read + write)) / cycle.period,
      clamp: sum((i) => (inductance * i * i) / 2),
      resistor: d.source.kind === 'voltage' ? d.source.resistance * meanSquare : 0,
    }),
  };
}

/** An inhibit driver in cycles that all keep a ZERO; edges and terminations as in inhibit-wire.ts. */
function inhibitNeeds(design: Design): DriverNeeds {
  const { drive, cycle, supply } = design;
  const d = drive.inhibit;
  const wire = inhibitWire(design);
  const level = driveLevels(design).inhibit;
  const slope = steepest(d.edge);
  const onTop = holdVoltage(wire, level);
  const onEdge = riseVoltage(wire, (level * slope) / d.rise, d.rise / slope);
  const charge = cycleCharge(design, 1).inhibit;
  return {
    line: 'inhibit',
    current: wire.wires * level,
    inductance: wire.inductance,
    resistance: wire.resistance,
    onEdge,
    onTop,
    needed: Math.max(onEdge, onTop),
    kick: riseVoltage(wire, (level * slope) / d.fall, d.fall / slope) - onTop,
    power: withRest({
      supply: (supply.voltage * charge) / cycle.period,
      wire: (onTop * charge) / cycle.period,
      cores: 0,
      clamp: (wire.wires * wire.inductance * (throughWire(wire) * level) ** 2) / 2 / cycle.period,
      resistor: 0,
    }),
  };
}

function withRest(known: Omit<DriverPower, 'driver'>): DriverPower {
  const { supply, wire, cores, clamp, resistor } = known;
  return { ...known, driver: Math.max(0, supply - wire - cores - clamp - resistor) };
}
