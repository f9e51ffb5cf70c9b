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
