import type { Design } from '../design/design.ts';
import type { BrokenLimit, Constraint, ConstraintCode } from './constraints/constraint.ts';
import { coreConstraints } from './constraints/core.ts';
import { driveConstraints } from './constraints/drive.ts';
import { senseConstraints } from './constraints/sense.ts';
import { supplyConstraints } from './constraints/supply.ts';

/**
 * Everything that a build must keep to beside its margin, held or not, from closed forms and no run. What is over its
 * limit is what `check` warns of and what a search for a build is kept from; what is just under it binds.
 */
export const constraints = (design: Design): readonly Constraint[] => [
  ...coreConstraints(design),
  ...driveConstraints(design),
  ...supplyConstraints(design),
  ...senseConstraints(design),
];

/**
 * What every run takes for granted: that currents come from a supply that can give them and drivers that bear it,
 * through wires that fit and stay cool. The rest shows in the traces themselves, as do compliance and clamps of X and Y;
 * the softest core is a part of the set `parts`; the heat of one core rests on a guess and is a warning of `check` alone.
 */
const GRANTED: ReadonlySet<ConstraintCode> = new Set([
  'hole',
  'line-volts',
  'inhibit-volts',
  'supply-voltage',
  'dissipation',
  'supply-current',
  'supply-peak',
  'reservoir',
  'wire-heat',
]);

/** Constraints that a verdict rests on without a run that counts them, and that do not hold; of each kind the worst. No run. */
export function brokenLimits(design: Design): readonly BrokenLimit[] {
  const worst = new Map<ConstraintCode, BrokenLimit>();
  for (const found of constraints(design)) {
    const { code, field, used, limit, unit, excess } = found;
    if (!GRANTED.has(code) || excess <= (worst.get(code)?.excess ?? 0)) continue;
    if (found.code === 'line-volts' && found.facts.short === 'driver') continue;
    worst.set(code, { code, field, used, limit, unit, excess });
  }
  return [...worst.values()];
}
