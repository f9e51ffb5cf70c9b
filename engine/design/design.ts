import type { CoreChoice, CoreException } from './core.ts';
import type { Cycle, CycleTiming, InhibitDrive, LineDrive } from './drive.ts';
import type { Mat, StoredPattern, Terminations, Winding, Wire } from './mat.ts';
import type { DesignRequirement, Supply, Tolerances } from './requirement.ts';
import type { Amplifier, Detector, Strobe } from './sense.ts';

export interface Numerics {
  /** s, greatest step; undefined: chosen from edges and network. */
  readonly step: number | undefined;
  /** Sections of the wire; undefined: chosen from edges and delay. */
  readonly sections: number | undefined;
  /** s between output samples. */
  readonly output: number;
}

/** A value about wires that the file left out: worked out by handbook formulas, or a default that stands for a guess. */
export interface FilledValue {
  /** SI. */
  readonly value: number;
  readonly from: 'geometry' | 'default';
}

/**
 * A memory as it is meant to be built, checked and complete: SI throughout (seconds, volts, amperes, ohms, henries,
 * farads, webers, metres; temperature in degrees Celsius), every default filled in, frozen. Only `checkDesign` makes one,
 * nothing downstream checks it again; `designToJson` writes it.
 *
 * Signs: the write direction is positive. A core's ampere-turns are `F = s_x I_x + s_y I_y + s_z i_z + bias`, with
 * `s_x = s_y = +1`; a read current is negative. The sense wire runs from end A to end B.
 */
export interface Design {
  readonly name: string;
  readonly note: string;
  /** °C. */
  readonly temperature: number;
  readonly core: CoreChoice;
  readonly mat: Mat;
  readonly winding: Winding;
  readonly wire: Wire;
  readonly terminations: Terminations;
  readonly drive: { readonly x: LineDrive; readonly y: LineDrive; readonly inhibit: InhibitDrive };
  readonly cycle: CycleTiming;
  /** The selected core: the address of the last cycle. */
  readonly selected: { readonly row: number; readonly column: number; readonly bit: 0 | 1 };
  readonly stored: StoredPattern;
  /** 'undisturbed': every core at plus or minus phi_r; 'disturbed': after a long train of half-select pulses. */
  readonly initialState: 'undisturbed' | 'disturbed';
  /** History, oldest first, then the observed cycle. Never empty. */
  readonly programme: readonly Cycle[];
  readonly exceptions: readonly CoreException[];
  readonly amplifier: Amplifier;
  readonly detector: Detector;
  readonly strobe: Strobe;
  readonly requirement: DesignRequirement;
  readonly tolerances: Tolerances;
  readonly supply: Supply;
  readonly numerics: Numerics;
  /** Values about wires that the file left out, by JSON pointer; a file written anew leaves them out again. */
  readonly filled: Readonly<Record<string, FilledValue>>;
}
