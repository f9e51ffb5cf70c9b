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
