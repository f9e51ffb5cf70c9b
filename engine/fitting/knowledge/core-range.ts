import type { CoreProperty } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';
import { UNKNOWNS, type UnknownName } from '../unknown-table.ts';
import { rangeOf } from '../unknowns.ts';

/**
 * Parameters of the core that count in a fit though they are not asked for, and the standard deviations of their
 * logarithms where the design takes its core at its word: as wide as a core of unknown make may be off that works as a
 * memory core at all, from the ranges of `design/core-ranges.ts`.
 */
const UNTOLD: Readonly<
  Partial<Record<UnknownName, { readonly field: CoreProperty; readonly spread: number }>>
> = {
  coreDynamicThreshold: { field: 'dynamicThreshold', spread: 0.2 },
  coreCoercive: { field: 'coerciveDrive', spread: 0.1 },
  coreStaticKnee: { field: 'staticKneeWidth', spread: 0.6 },
  coreDynamicKnee: { field: 'dynamicKneeWidth', spread: 0.6 },
  coreElasticBend: { field: 'elasticBend', spread: 0.4 },
  coreSquareness: { field: 'squareness', spread: 0.03 },
};

/** What half-selects switch grows exponentially with the place and width of the knee: no straight line follows that. */
export const FOLLOWED: ReadonlySet<UnknownName> = new Set([
  'coreDynamicThreshold',
  'coreCoercive',
  'coreStaticKnee',
]);

/** One parameter that is not asked for and yet not known. */
export interface HiddenUnknown {
  readonly name: UnknownName;
  /** Standard deviation of its logarithm before the captures speak. */
  readonly spread: number;
  /** True: its effect is followed exactly; false: to first order about the fit. */
  readonly exact: boolean;
}

/** Parameters of the core whose uncertainty counts in a fit of other things. None where nothing of the core is asked for. */
export function hiddenUnknowns(base: Design, asked: readonly UnknownName[]): HiddenUnknown[] {
  if (!asked.some((name) => name.startsWith('core'))) return [];
  const taken = new Set<string>(asked.flatMap((name) => [...UNKNOWNS[name].fields]));
  return (Object.keys(UNTOLD) as UnknownName[])
    .filter((name) => !UNKNOWNS[name].fields.some((field) => taken.has(field)))
    .filter((name) => (rangeOf(base, name)?.start ?? 0) > 0)
    .map((name) => ({
      name,
      spread: priorSpread(base, name) as number,
      exact: FOLLOWED.has(name),
    }));
}

/** Ends of a range of the design hold about 95 of 100 cores. */
const ENDS = 2 * 1.96;

/**
 * Standard deviation of the logarithm that an unknown has before the captures speak: from the core's range where the
 * design has one, else as wide as such cores are. Undefined: nothing is believed of it.
 */
function priorSpread(base: Design, name: UnknownName): number | undefined {
  const untold = UNTOLD[name];
  if (untold === undefined) return undefined;
  const { low, high, from } = base.core.range[untold.field];
  return from === 'given' || !(low > 0 && high > low) ? untold.spread : Math.log(high / low) / ENDS;
}

/** What the design says of an unknown before the captures speak; undefined where it says nothing. */
export function believedOf(
  base: Design,
  name: UnknownName,
): { readonly centre: number; readonly spread: number } | undefined {
  const spread = priorSpread(base, name);
  const centre = rangeOf(base, name)?.start ?? 0;
  return spread !== undefined && centre > 0 ? { centre, spread } : undefined;
}
