export interface Mat {
  readonly rows: number;
  readonly columns: number;
  /** Planes in series on X and Y: bits of the word. */
  readonly mats: number;
  /** How many of the other mats hold a ONE at the selected address (their cores load the lines as they switch). */
  readonly otherOnes: number;
  /** Distance between neighbouring cores, m. */
  readonly pitch: number;
  /** From one mat of the stack to the next, m. */
  readonly spacing: number;
  readonly leads: Leads;
  /** Cores that are there where not all are; the wires lie as in the whole mat. */
  readonly populated?: Populated | undefined;
}

/** Those of any row, of any column, and single ones. */
export interface Populated {
  readonly rows?: readonly number[] | undefined;
  readonly columns?: readonly number[] | undefined;
  readonly cores?: readonly { readonly row: number; readonly column: number }[] | undefined;
}

/** The wires between a drive line's driver and the mats. */
export interface Leads {
  /** m of wire there and back, both together. */
  readonly length: number;
  /** m between the lead there and the lead back, middle to middle. */
  readonly distance: number;
  /** H: air mutual inductance of these leads and those of the sense wire (`wire.cable`), both ends together. */
  readonly mutual: number;
}

export type WindingKind =
  'shared-one-run' | 'shared-two-halves' | 'separate-diagonal' | 'separate-rectangular' | 'custom';

export interface Winding {
  readonly kind: WindingKind;
  /** Custom only: s_z, +1 or -1, [row][column]. */
  readonly polarity?: readonly (readonly number[])[];
  /** Custom only: core indices row * columns + column in the order in which the wire visits them. */
  readonly order?: readonly number[];
  /** Custom only: does the sense wire carry the inhibit current too? */
  readonly shared?: boolean;
  /** Equal segments along the wire, each with an amplifier of its own; 1 = undivided (P9). */
  readonly segments: number;
}

/** The sense (or shared) wire and its surroundings; per-core values multiply by the cores a section holds. */
export interface Wire {
  /** ohm per core pitch at 25 °C. */
  readonly resistancePerCore: number;
  /** H per core pitch, the wire's own inductance without ferrite. */
  readonly inductancePerCore: number;
  /** F per core pitch to the surroundings. */
  readonly capacitancePerCore: number;
  /** S per core pitch, leakage. */
  readonly leakagePerCore: number;
  /** L/R_p, s: ferrite loss in parallel with each section's inductance; 0 means no loss (R_p infinite). */
  readonly lossTime: number;
  /** H per crossing of an X line, air mutual inductance; the sign follows the polarity of the crossing. */
  readonly mutualX: number;
  readonly mutualY: number;
  /** F per crossing, drive wire to sense wire. */
  readonly couplingCapacitance: number;
  /** What every wire is made of. */
  readonly material: Conductor;
  /** m, outside diameter of every wire through a core, insulation included. */
  readonly diameter: number;
  /** m, the conductor alone. */
  readonly bareDiameter: number;
  /** m between the sense wire and the drive wire that it meets in a hole, middle to middle, on average. */
  readonly distance: number;
  /** Leads and cable between the mat and the board, at each end of the wire. */
  readonly cable: Cable;
}

export type Conductor = 'copper' | 'aluminium' | 'silver';

export interface Cable {
  /** One-way delay, s; 0 = no cable. */
  readonly delay: number;
  /** Differential line split into two conductors against the surroundings, each of this impedance, ohm. */
  readonly impedance: number;
  /** Series resistance of one conductor, ohm. */
  readonly resistance: number;
}

/** Conductance to the surroundings is 1/ohm; 'open' and 'short' are kept as Infinity and 0. */
export interface Terminations {
  /** ohm at end A (node 0). */
  readonly a: number;
  /** ohm at end B (last node). */
  readonly b: number;
  /** ohm at the joint of two halves; Infinity when there is no joint. */
  readonly joint: number;
}

export type PatternKind =
  'zeros' | 'ones' | 'checkerboard' | 'row-stripes' | 'column-stripes' | 'random' | 'custom';

export interface StoredPattern {
  readonly kind: PatternKind;
  /** Random only. */
  readonly seed: number;
  /** Custom only: one text of 0 and 1 per row. */
  readonly rows?: readonly string[];
  /** Invert every bit. */
  readonly complement: boolean;
}
