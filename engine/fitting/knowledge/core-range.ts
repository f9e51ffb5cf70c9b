import type { Design } from '../../design/design.ts';
import type { UnknownName } from '../unknown-table.ts';
import { UNKNOWNS } from '../unknown-table.ts';
import { rangeOf } from '../unknowns.ts';

/**
 * What is not known of a core beside what a fit is asked for, and how far it may be off where nothing measured it:
 * standard deviations of the logarithm. They stand for the ranges that a core of unknown make has when it works as a
 * coincident-current core at all: drawn from the fitted ranges of one measured core and its draws, no handbook.
 */
const HONEST: Readonly<Partial<Record<UnknownName, number>>> = {
  coreDynamicThreshold: 0.15,
  coreCoercive: 0.1,
  coreStaticKnee: 0.6,
  coreDynamicKnee: 0.6,
  coreElasticBend: 0.5,
  coreSquareness: 0.03,
};

/** One parameter that is not asked for and yet not known. */
export interface HiddenUnknown {
  readonly name: UnknownName;
  /** Standard deviation of its logarithm before the captures speak. */
  readonly spread: number;
  /** True: its effect is followed exactly; false: to first order about the fit. */
  readonly exact: boolean;
}

/** Parameters of the core whose uncertainty counts in a fit of other things. None where nothing is asked for. */
export function hiddenUnknowns(base: Design, asked: readonly UnknownName[]): HiddenUnknown[] {
  if (!asked.some((name) => name.startsWith('core'))) return [];
  const taken = new Set<string>(asked.flatMap((name) => [...UNKNOWNS[name].fields]));
  return (Object.keys(HONEST) as UnknownName[])
    .filter((name) => !UNKNOWNS[name].fields.some((field) => taken.has(field)))
    .filter((name) => (rangeOf(base, name)?.start ?? 0) > 0)
    .map((name) => ({ name, spread: HONEST[name] as number, exact: name === 'coreDynamicThreshold' }));
}

/** Standard deviation of the logarithm that an asked unknown has before the captures speak; undefined: none. */
export const priorSpread = (name: UnknownName): number | undefined => HONEST[name];
