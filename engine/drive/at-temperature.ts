import type { Design } from '../design/design.ts';
import { longestPulse } from './pulse-widths.ts';

/** °C at which the amplitudes of a design file hold. */
const AMPLITUDES_AT = 25;

/** Factor on a drive's amplitude (and on a voltage source's voltage) at `temperature`, °C: 1 + coefficient (T - 25 °C). */
export const driveFactor = (coefficient: number, temperature: number): number =>
  1 + coefficient * (temperature - AMPLITUDES_AT);

/** Currents of the three drivers, A, magnitudes. */
export interface DriveLevels {
  readonly x: { readonly read: number; readonly write: number };
  readonly y: { readonly read: number; readonly write: number };
  /** Per wire (for two halves: per half). */
  readonly inhibit: number;
}

/** The design's currents at its temperature: the one place where a drive follows the temperature. */
export function driveLevels({ drive, temperature }: Design): DriveLevels {
  const line = ({ readAmplitude, writeAmplitude, temperatureCoefficient }: Design['drive']['x']) => {
    const factor = driveFactor(temperatureCoefficient, temperature);
    return { read: readAmplitude * factor, write: writeAmplitude * factor };
  };
  const { amplitude, temperatureCoefficient } = drive.inhibit;
  return {
    x: line(drive.x),
    y: line(drive.y),
    inhibit: amplitude * driveFactor(temperatureCoefficient, temperature),
  };
}

/** A: what a selected core sees in a read, as core parameters hold: at 25 °C. */
export const askedDrive = ({ drive }: Pick<Design, 'drive'>): number =>
  drive.x.readAmplitude + drive.y.readAmplitude;

/** What each kind of core sees at the design's temperature, A. */
export interface WarmCurrents {
  /** The greatest current of one line. */
  readonly half: number;
  /** The greatest read current of one line: what a train of half-reads disturbs with. */
  readonly halfRead: number;
  readonly fullRead: number;
  readonly fullWrite: number;
  readonly inhibit: number;
  /** Net drive of the selected core in an inhibited write. 370 + 370 - 340 mA leaves 400 mA. */
  readonly inhibited: number;
}

export function warmCurrents(design: Design): WarmCurrents {
  const { x, y, inhibit } = driveLevels(design);
  const fullWrite = x.write + y.write;
  return {
    half: Math.max(x.read, x.write, y.read, y.write),
    halfRead: Math.max(x.read, y.read),
    fullRead: x.read + y.read,
    fullWrite,
    inhibit,
    inhibited: fullWrite - inhibit,
  };
}

/** The train of half-reads that disturbs a core of this design: A and s. */
export const halfReads = (design: Design): { readonly halfDrive: number; readonly width: number } => ({
  halfDrive: warmCurrents(design).halfRead,
  width: longestPulse(design, 'read'),
});
