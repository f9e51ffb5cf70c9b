import type { Unit } from '../base/units.ts';

/** A legal design that will probably disappoint: what, by how much, and what to do about it. */
export interface DesignWarning {
  readonly code: DesignWarningCode;
  /** JSON pointer of the field to change first. */
  readonly field: string;
  /** One sentence with the number and the limit. */
  readonly message: string;
  /** The number and the limit it should keep to, SI in `unit`. */
  readonly value: number;
  readonly limit: number;
  readonly unit: Unit;
  readonly remedy: string;
}

export type DesignWarningCode =
  | 'half-select-over-knee'
  | 'inhibited-core-over-knee'
  | 'inhibit-over-knee'
  | 'no-switching'
  | 'read-incomplete'
  | 'write-incomplete'
  | 'inhibit-late'
  | 'inhibit-short'
  | 'disturb-meets-inhibit'
  | 'compliance'
  | 'turn-off-kick'
  | 'supply-voltage'
  | 'supply-current'
  | 'wire-heat'
  | 'recovery'
  | 'strobe-outside-read'
  | 'threshold-above-one'
  | 'amplifier-saturates'
  | 'mismatch'
  | 'sag';
