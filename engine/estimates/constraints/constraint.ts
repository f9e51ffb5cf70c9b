import type { Unit } from '../../base/units.ts';

/**
 * What each constraint's sentence needs beside `used` and `limit`, SI. The keys are the codes of all constraints:
 * a search for a build, `check` and the verdict speak of the same ones.
 */
export interface ConstraintFacts {
  /** Knees: `used` at the warm end with drives at their high end; `nominal` and `nominalKnee` as designed. */
  'half-select-over-knee': KneeFacts;
  /** `share` of the inhibit current that flows through the wire and not through its terminations. */
  'inhibited-core-over-knee': KneeFacts & { readonly share: number; readonly half: number };
  'inhibit-over-knee': KneeFacts;
  'no-switching': { readonly what: 'read' | 'write' };
  /** s at full drive that the core needs (`used`) and the pulse leaves (`limit`), at the cold end with drives low. */
  'read-incomplete': { readonly temperature: number };
  'write-incomplete': { readonly temperature: number };
  /** Parts of its flux: `used` must be kept, `limit` is what is; `bit` loses it. */
  'softest-core': { readonly bit: 0 | 1; readonly sigmas: number };
  /** Standard deviation of a real core's peak about the model's, at `drive`; read at `tested` (A, ampere-turns). */
  'core-untested': { readonly drive: number; readonly tested: number };
  'inhibit-late': object;
  'inhibit-short': object;
  'disturb-meets-inhibit': { readonly sum: number };
  'line-volts': LineFacts & { readonly available: number; readonly short: 'driver' | 'supply' };
  'inhibit-volts': LineFacts & { readonly available: number; readonly short: 'driver' | 'supply' };
  'inhibit-clamp': object;
  'turn-off-kick': { readonly line: string; readonly fall: number };
  'supply-voltage': { readonly line: string };
  dissipation: { readonly line: string };
  tracking: { readonly celsius: number };
  'supply-current': { readonly period: number; readonly shortest: number };
  'supply-peak': { readonly reservoir: number };
  reservoir: { readonly peak: number };
  'wire-heat': { readonly line: string; readonly perMetre: number };
  'core-heat': { readonly power: number };
  hole: { readonly wires: number };
  recovery: {
    readonly start: number;
    readonly time: number;
    readonly target: number;
    readonly overhead: number;
  };
  'strobe-outside-read': { readonly from: number; readonly to: number };
  'threshold-above-one': object;
  'amplifier-saturates': { readonly one: number; readonly threshold: number };
  mismatch: {
    readonly end: string;
    readonly load: number;
    readonly impedance: number;
    readonly echo: number;
  };
  sag: { readonly corner: number; readonly width: number };
}

interface KneeFacts {
  readonly nominal: number;
  readonly nominalKnee: number;
  readonly temperature: number;
}

interface LineFacts {
  readonly line: string;
  readonly inductance: number;
  readonly onEdge: number;
  readonly onTop: number;
  readonly rise: number;
}

export type ConstraintCode = keyof ConstraintFacts;

/** One thing that a build must keep to. */
export type Constraint = {
  [Code in ConstraintCode]: {
    readonly code: Code;
    /** JSON pointer of the field to change first. */
    readonly field: string;
    /** What the design asks for and what it may ask for at most, SI in `unit`. */
    readonly used: number;
    readonly limit: number;
    readonly unit: Unit;
    /** used/limit - 1: over 0 it does not hold. Where the limit is nothing at all, `used` over `scale`. */
    readonly excess: number;
    readonly facts: ConstraintFacts[Code];
  };
}[ConstraintCode];

/** A constraint that does not hold, as it is told: what is asked for and what may be, SI in `unit`. */
export type BrokenLimit = Pick<Constraint, 'code' | 'field' | 'used' | 'limit' | 'unit' | 'excess'>;

/** @param scale in which a limit of zero is exceeded; else the limit itself */
export function constraint<Code extends ConstraintCode>(
  code: Code,
  field: string,
  [used, limit, unit]: readonly [used: number, limit: number, unit: Unit],
  facts: ConstraintFacts[Code],
  scale = limit,
): Constraint {
  const over = used - limit;
  const excess = over === 0 ? 0 : over / Math.abs(scale);
  return { code, field, used, limit, unit, excess, facts } as Constraint;
}
