/**
 * A checked design: complete, frozen, SI throughout (seconds, volts, amperes, ohms, henries, farads, webers,
 * metres; temperature in degrees Celsius). Only `checkDesign` makes one; nothing downstream checks it again.
 *
 * Signs: the write direction is positive. A core's ampere-turns are
 * `F = s_x I_x + s_y I_y + s_z i_z + bias`, with `s_x = s_y = +1`; a read current is negative.
 */

/** Parameters of one ferrite core at 25 °C, symbols as in the core model (see core/model.ts). */
export interface CoreParameters {
  /** Remanent flux phi_r, Wb. A stored ONE rests at +phi_r, a stored ZERO at -phi_r. */
  readonly remanentFlux: number;
  /** phi_r / phi_s, in (0, 1). */
  readonly squareness: number;
  /** F_c, A: ampere-turns at which the static curve crosses zero flux. */
  readonly coerciveDrive: number;
  /** w, A: width of the static knee. */
  readonly staticKneeWidth: number;
  /** F_0, A: dynamic threshold. */
  readonly dynamicThreshold: number;
  /** s, A: width of the dynamic knee. */
  readonly dynamicKneeWidth: number;
  /** rho, ohm per turn squared: switching resistance. */
  readonly switchingResistance: number;
  /**
   * r, 0 to 0.3: thresholds at the inside and outside lie this far below and above those at the mean diameter, as a
   * fraction (the field of a wire falls with the radius). 0: the core switches as one.
   */
  readonly ringSpread: number;
  /** eps_sat, H: elastic slope far into the stored state. */
  readonly elasticSaturated: number;
  /** eps_knee, H: elastic slope toward the knee. */
  readonly elasticKnee: number;
  /** F_e, A: drive over which the elastic slope changes. */
  readonly elasticBend: number;
  /** rho_i, ohm: resistance of the decaying inelastic part; 0 switches the part off. */
  readonly decayResistance: number;
  /** C_i, A s: charge constant of the decaying part. */
  readonly decayCharge: number;
  /** F_d, A: threshold of the decaying part. */
  readonly decayThreshold: number;
  /** kF, 1/K: relative change per kelvin of F_c, F_0 and F_d (negative: softer when warm). */
  readonly driveTemperatureCoefficient: number;
  /** kphi, 1/K: relative change per kelvin of phi_r and phi_s (negative). */
  readonly fluxTemperatureCoefficient: number;
  /** Outside diameter, m. */
  readonly outsideDiameter: number;
  /** Inside diameter, m. */
  readonly insideDiameter: number;
  /** Height, m. */
  readonly height: number;
}

/** What a core does, as against its size. */
export type CoreProperty = Exclude<keyof CoreParameters, 'outsideDiameter' | 'insideDiameter' | 'height'>;

/**
 * Where the value of a core parameter comes from: an interval of a fit to captures; handbook or bench readings; a
 * preset from memory; nothing but what such cores are like; or the design itself, which is taken at its word.
 */
export type CoreOrigin = 'measured' | 'handbook' | 'preset' | 'assumed' | 'given';

/** Between which values a parameter lies, in its own unit; about 95 of 100 cores of what is known lie inside. */
export interface CoreRange {
  readonly low: number;
  readonly high: number;
  readonly from: CoreOrigin;
}

/**
 * The test by which a core is known: at this drive it answers as its parameters say, within the tolerance, whatever
 * the parameters that the test does not show. Peak, peak time and switching time of a ONE are read at full drive.
 */
export interface CoreTest {
  /** A, ampere-turns. */
  readonly fullDrive: number;
  /** s, 0 to 100 % of the linear edge. */
  readonly rise: number;
  /** How far the readings may be off, as a fraction of each (about two standard deviations). */
  readonly tolerance: number;
  /** Half-select current of the disturb test over full drive, its pulses, and their width (s). */
  readonly disturbRatio: number;
  readonly disturbs: number;
  readonly disturbWidth: number;
  /** How far the disturbed reading may be off, as a fraction of the peak of a ONE. Left out: none was taken. */
  readonly disturbTolerance?: number | undefined;
  /** A: the peak was read at this drive too. */
  readonly secondDrive?: number | undefined;
}

export interface CoreChoice {
  readonly name: string;
  readonly source: string;
  readonly parameters: CoreParameters;
  /** What is not known of them. */
  readonly range: Readonly<Record<CoreProperty, CoreRange>>;
  readonly test: CoreTest;
}

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

export type EdgeShape =
  | { readonly kind: 'linear' }
  | { readonly kind: 'raised-cosine' }
  | { readonly kind: 'exponential' }
  /** time as a fraction of the edge's duration (0..1), current as a fraction of the amplitude (0..1). */
  | { readonly kind: 'table'; readonly points: readonly (readonly [number, number])[] };

/** Overshoot of a pulse as a damped second-order response. */
export interface Overshoot {
  /** First overshoot as a fraction of the amplitude; 0 = none. */
  readonly fraction: number;
  /** Frequency of the ringing, Hz. */
  readonly frequency: number;
}

export type LineSource =
  | { readonly kind: 'current' }
  | {
      readonly kind: 'voltage';
      /** V, behind `resistance`; when all is settled, voltage / (resistance + the line's own) flows. */
      readonly voltage: number;
      readonly resistance: number;
    };

/** A current pulse as a table: times and currents as multiples of `time` (s) and `current` (A), positive whichever way it drives. */
export interface DriveTable {
  readonly points: readonly (readonly [number, number])[];
  readonly time: number;
  readonly current: number;
}

/** The X or the Y drive line. */
export interface LineDrive {
  readonly source: LineSource;
  /** A, magnitude of the read current. */
  readonly readAmplitude: number;
  /** A, magnitude of the write current. */
  readonly writeAmplitude: number;
  /** Pulses as measured; their shape is kept whatever the amplitude. Undefined: edges and widths. */
  readonly read?: DriveTable | undefined;
  readonly write?: DriveTable | undefined;
  /** s, between half-amplitude points; undefined: those of the cycle (pulseWidth). */
  readonly readWidth?: number | undefined;
  readonly writeWidth?: number | undefined;
  /** s, 0 to 100 % for linear, raised cosine and table; 10 to 90 % for exponential. */
  readonly rise: number;
  readonly fall: number;
  readonly edge: EdgeShape;
  readonly overshoot: Overshoot;
  /** H, the line's own inductance without cores. */
  readonly inductance: number;
  /** ohm, the line itself at 25 °C. */
  readonly resistance: number;
  /** V, the most that a current source gives: where the line needs more, the current follows from the line. */
  readonly compliance: number;
  /** V, clamp that takes the turn-off kick. */
  readonly clamp: number;
  /** 1/K, relative change of the amplitude with temperature about 25 °C. */
  readonly temperatureCoefficient: number;
  /** W, what one driver bears, resistors included, when used in every cycle; undefined: not stated. */
  readonly dissipation?: number | undefined;
}

export interface InhibitDrive {
  /** A per wire, magnitude (for two halves: per half). */
  readonly amplitude: number;
  readonly rise: number;
  readonly fall: number;
  readonly edge: EdgeShape;
  readonly overshoot: Overshoot;
  /** s, inhibit is on before the write pulse's half-amplitude point. */
  readonly lead: number;
  /** s, inhibit stays on after the write pulse's half-amplitude point. */
  readonly lag: number;
  /** V: diode or Zener clamp across each driven end of the wire; Infinity = none. */
  readonly clamp: number;
  /** V, the most that the driver gives across the wire. */
  readonly compliance: number;
  readonly temperatureCoefficient: number;
  /** W, as of a line's driver. */
  readonly dissipation?: number | undefined;
}

/** Times within one cycle; 0 is the start of the read edge of the earlier line. */
export interface CycleTiming {
  /** s from one read to the next. */
  readonly period: number;
  /** s, between half-amplitude points. */
  readonly readWidth: number;
  /** s, end of read (half amplitude) to start of write (half amplitude); between pulses of one kind alike. */
  readonly gap: number;
  readonly writeWidth: number;
  /** Pulses of each kind in a cycle: 2 reads are read, read again. */
  readonly reads: number;
  readonly writes: number;
  /** s of each cycle in which no pulse flows: address, decoding, latch, register. */
  readonly overhead: number;
  /** s, Y starts this much after X (negative: before). Applies to read and write. */
  readonly stagger: number;
  /** Half-read pulse on X after the write (post-write disturb). */
  readonly postWriteDisturb: boolean;
  /** s from the end of write to the post-write disturb pulse. */
  readonly postWriteGap: number;
  /**
   * Share (0..1) of the cycles before the programme that kept a ZERO and were inhibited, one cycle a period for ever:
   * it sets the baseline of an AC-coupled amplifier. Left out: nothing went before.
   */
  readonly inhibitedShare?: number;
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

/** One cycle of the programme. The last cycle is the one that is observed; its read starts at t = 0. */
export interface Cycle {
  readonly row: number;
  readonly column: number;
  /** Which lines are pulsed: both select, one alone disturbs. */
  readonly lines: 'both' | 'x' | 'y';
  readonly read: boolean;
  /** 'restore' writes back what was stored; 'zero' means that the write is inhibited. */
  readonly write: 'restore' | 'one' | 'zero' | 'none';
}

export interface CoreException {
  readonly row: number;
  readonly column: number;
  readonly missing: boolean;
  /** Threaded backwards: s_z negated. */
  readonly reversed: boolean;
  /** Multiplies the flux (1 = as the others). */
  readonly fluxFactor: number;
  /** Multiplies every threshold (1 = as the others). */
  readonly thresholdFactor: number;
  /** Multiplies the elastic inductance; left out: 1, as the others. */
  readonly elasticFactor?: number;
  /** A, ampere-turns from a magnet held to the core; positive in the write direction. */
  readonly bias: number;
}

export interface Amplifier {
  /** Fraction of the sense voltage that reaches the amplifier, (0, 1]. */
  readonly divider: number;
  /** ohm from each input to the surroundings. */
  readonly inputResistance: number;
  /** V, magnitude at which the input clamp limits (after the divider); Infinity = none. */
  readonly inputClamp: number;
  /** V/V in mid band. */
  readonly gain: number;
  /** Hz, -3 dB of the first and (optional, else Infinity) second pole. */
  readonly bandwidth: number;
  readonly secondPole: number;
  /** Hz, AC coupling; 0 = DC coupled. */
  readonly highPass: number;
  /** V, magnitude of the greatest output. */
  readonly outputLimit: number;
  /** s, time to recover after the output limit was reached; 0 = at once. */
  readonly recovery: number;
  /** dB; Infinity = ideal balance. */
  readonly commonModeRejection: number;
  /** 'either': the detector hears both polarities (full-wave rectified); 'address': polarity follows the selected core. */
  readonly polarity: 'either' | 'address';
}

/** Threshold detector. Voltages are referred to the sense wire (output divided by divider times gain). */
export interface Detector {
  readonly threshold: number;
  /** V peak to peak: the detector switches on at threshold + h/2, off at threshold - h/2. */
  readonly hysteresis: number;
  /** V, plus or minus. */
  readonly uncertainty: number;
  /** s, propagation delay. */
  readonly delay: number;
  /** V/s added to the threshold from the start of read on (negative: a falling threshold); 0 = constant. */
  readonly slope: number;
  /** V rms of noise referred to the sense wire. */
  readonly noise: number;
}

export interface Strobe {
  /** s from the start of read to the middle of the aperture; undefined: the best instant is found. */
  readonly time: number | undefined;
  /** s, the latch listens this long. */
  readonly aperture: number;
  /** s rms. */
  readonly jitter: number;
}

/**
 * Which cases count in a verdict. `nominal`: all patterns, disturb states, addresses and histories, parts as stated;
 * `corners`: the same with drive, supply, temperature, threshold and strobe at the ends stated; `parts`: chance that a
 * whole mat and a whole stack of parts as they come read every bit; `core`: the corners again over what is not known of
 * the core; `numbers`: the run's own error at the strobe.
 */
export const SET_NAMES = ['nominal', 'corners', 'parts', 'core', 'numbers'] as const;
export type SetName = (typeof SET_NAMES)[number];

/** What the builder asks for; compared with the result by --require and the page. */
export interface Requirement {
  /** V of margin on the worse side of the threshold, its uncertainty taken off; referred to the sense wire. */
  readonly margin: number;
  /** s of strobe window. */
  readonly width: number;
  /**
   * V at the sense wire: half-selected cores that add this much or more to the greatest ZERO at the strobe are
   * noticed. Left out: what the threshold leaves after its uncertainty.
   */
  readonly halfSelectNoise?: number | undefined;
}

/** What a design asks for, and of which sets. */
export interface DesignRequirement extends Requirement {
  /** Sets that decide the verdict of the design; the others are told without deciding. */
  readonly sets: readonly SetName[];
  /** Least share of whole stacks (0..1) that read every bit, for the set `parts`. */
  readonly yield: number;
}

/** One standard deviation as a fraction unless said otherwise; used by tolerance studies and corners. */
export interface Tolerances {
  readonly coreThreshold: number;
  readonly coreFlux: number;
  readonly coreElastic: number;
  /** Correlation between a core's threshold and its flux, -1..1. */
  readonly coreCorrelation: number;
  readonly drive: number;
  /** Of the inhibit current; as `drive` where a design does not say. */
  readonly inhibit: number;
  readonly edge: number;
  readonly termination: number;
  readonly threshold: number;
  /** s rms of the strobe's setting. */
  readonly strobe: number;
  /** Error of a drive's temperature coefficient as a fraction of it. */
  readonly tracking: number;
  /** K: how far the cores may be from the temperature that drives follow. */
  readonly gradient: number;
  /** K: half-range of temperature about the design's. */
  readonly temperature: number;
  /** Half-range of the supply as a fraction: it moves every drive amplitude, and the threshold with them. */
  readonly supply: number;
}

export interface Supply {
  /** V of the drive supply. */
  readonly voltage: number;
  /** A drawn at rest. */
  readonly quiescent: number;
  /** C drawn each cycle regardless of data (logic, sense amplifiers). */
  readonly chargePerCycle: number;
  /** V that transistors, diodes and leads in series with a line keep for themselves. */
  readonly headroom: number;
  /** F beside the drivers; undefined: none is counted on. */
  readonly reservoir?: number | undefined;
  /** A that the supply may give. */
  readonly budget: number;
}

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
 * A memory as it is meant to be built, checked and complete: SI, every default filled in, frozen. `checkDesign` makes
 * one, `designToJson` writes it. Positive drive currents write; the sense wire runs from end A to end B.
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
