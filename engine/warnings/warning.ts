import type { Unit } from '../base/units.ts';
import type { ConstraintCode } from '../estimates/constraints/constraint.ts';

/** A legal design that will probably disappoint: what, by how much, and what to do about it. */
export interface DesignWarning {
  readonly code: ConstraintCode;
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
