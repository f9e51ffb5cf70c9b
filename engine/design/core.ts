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
