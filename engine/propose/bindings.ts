import type { Design } from '../design/design.ts';
import { constraints } from '../estimates/constraints.ts';
import type { Constraint } from '../estimates/constraints/constraint.ts';
import { cycleLimits } from '../estimates/cycle-limits.ts';
import type { Needs } from './needs.ts';

/** One thing that a build does not keep to, or that holds it back. */
export interface Bind {
  /** A code of `check`, or `cycle`. */
  readonly code: Constraint['code'] | 'cycle';
  readonly used: number;
  readonly limit: number;
  readonly unit: Constraint['unit'];
  /** used/limit - 1; over 0 it does not hold. */
  readonly excess: number;
}

/** What `check` only warns of: a search need not keep to it, and it is told with the build. */
const SOFT: ReadonlySet<Constraint['code']> = new Set([
  'core-heat',
  'core-untested',
  'mismatch',
  'strobe-outside-read',
  'threshold-above-one',
]);
/** What a rule of build.ts sets to just what is needed: no news where it holds. */
const BY_RULE: ReadonlySet<Bind['code']> = new Set([
  'inhibit-late',
  'inhibit-short',
  'read-incomplete',
  'write-incomplete',
  'reservoir',
  'inhibit-volts',
  'supply-voltage',
]);
/** A constraint closer than this to its limit is told as binding. */
const NEAR = 0.1;
/** What a broken constraint costs of the reserve: at once, and times its excess. */
const PENALTY = { step: 0.1, slope: 10 } as const;

/** Everything that a build must keep to beside its reserve; no run. */
export function bindings(needs: Needs, design: Design): readonly Bind[] {
  const { timing } = cycleLimits(design);
  const own: Bind[] = [
    { code: 'cycle', used: timing, limit: needs.cycle, unit: 's', excess: timing / needs.cycle - 1 },
  ];
  const all = constraints(design)
    .filter(({ code }) => !SOFT.has(code) && code !== 'recovery')
    .map(({ code, used, limit, unit, excess }): Bind => ({
      code,
      used: finite(used),
      limit: finite(limit),
      unit,
      excess: finite(excess),
    }));
  return [...own, ...all]
    .filter(({ code, excess }) => excess > (BY_RULE.has(code) ? 1e-9 : -NEAR))
    .sort((a, b) => b.excess - a.excess);
}

/** Numbers travel as JSON, which knows no infinity: what has no limit at all is beyond it by a million. */
const finite = (value: number): number => Math.max(-1e6, Math.min(1e6, value));

export const penaltyOf = (binding: readonly Bind[]): number =>
  binding.reduce((sum, { excess }) => sum + (excess > 1e-9 ? PENALTY.step + PENALTY.slope * excess : 0), 0);
