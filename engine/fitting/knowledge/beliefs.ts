import type { CoreProperty } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';
import { assumedFields } from '../../estimates/assumed-fields.ts';
import { UNKNOWNS, type UnknownKind, type UnknownName } from '../unknown-table.ts';
import { rangeOf } from '../unknowns.ts';

interface OfCore {
  /** Its range in the design is what is believed. */
  readonly field: CoreProperty;
  /** Standard deviation of its logarithm where the design takes its core at its word. */
  readonly spread: number;
  /** True: it counts in a fit of the core though it is not asked for. */
  readonly hidden: boolean;
}

/**
 * What is believed of a core before captures speak. Spreads where the design has no range: as wide as a core of unknown make
 * may be off that works as a memory core at all, from the ranges of `design/core-ranges.ts`.
 */
const OF_CORE: Readonly<Partial<Record<UnknownName, OfCore>>> = {
  coreFlux: { field: 'remanentFlux', spread: 0.4, hidden: false },
  coreThreshold: { field: 'coerciveDrive', spread: 0.15, hidden: false },
  coreRate: { field: 'switchingResistance', spread: 0.5, hidden: false },
  coreDynamicThreshold: { field: 'dynamicThreshold', spread: 0.2, hidden: true },
  coreCoercive: { field: 'coerciveDrive', spread: 0.1, hidden: true },
  coreStaticKnee: { field: 'staticKneeWidth', spread: 0.6, hidden: true },
  coreDynamicKnee: { field: 'dynamicKneeWidth', spread: 0.6, hidden: true },
  coreElasticBend: { field: 'elasticBend', spread: 0.4, hidden: true },
  coreSquareness: { field: 'squareness', spread: 0.03, hidden: true },
};

/**
 * What half-selects switch grows exponentially with the place and width of the knee, and an edge that is longer is lower too:
 * no straight line follows that.
 */
export const FOLLOWED: ReadonlySet<UnknownName> = new Set([
  'coreDynamicThreshold',
  'coreCoercive',
  'coreStaticKnee',
  'driveRiseX',
  'driveRiseY',
]);

/** One parameter that is not asked for and yet not known. */
export interface HiddenUnknown {
  readonly name: UnknownName;
  /** Standard deviation of its logarithm before the captures speak. */
  readonly spread: number;
  /** True: its effect is followed exactly; false: to first order about the fit. */
  readonly exact: boolean;
}

const NAMES = Object.keys(UNKNOWNS) as UnknownName[];
const fieldsOf = (name: UnknownName): readonly string[] => (UNKNOWNS[name] as UnknownKind).fields;

/**
 * What counts in a fit of other things though nobody knows it: of the core, where anything of it is asked for, and fields of
 * wires and edges that the design leaves to a default.
 */
export function hiddenUnknowns(base: Design, asked: readonly UnknownName[]): HiddenUnknown[] {
  if (!asked.some((name) => name.startsWith('core'))) return [];
  const taken = new Set(asked.flatMap(fieldsOf));
  const left = new Set(assumedFields(base).map(({ field }) => field));
  const open = (name: UnknownName): boolean =>
    OF_CORE[name]?.hidden === true || (fieldsOf(name).length === 1 && left.has(fieldsOf(name)[0]!));
  return NAMES.filter((name) => open(name) && !fieldsOf(name).some((field) => taken.has(field)))
    .filter((name) => (rangeOf(base, name)?.start ?? 0) > 0)
    .map((name) => ({ name, spread: priorSpread(base, name) as number, exact: FOLLOWED.has(name) }));
}

/** Ends of a range of the design hold about 95 of 100. */
const ENDS = 2 * 1.96;

/**
 * Standard deviation of the logarithm that an unknown has before the captures speak: from the range of the core or of a field
 * left to a default, else as wide as such cores are. Undefined: nothing is believed of it.
 */
function priorSpread(base: Design, name: UnknownName): number | undefined {
  const core = OF_CORE[name];
  const stated = statedRange(base, name);
  return stated === undefined ? core?.spread : Math.log(stated.high / stated.low) / ENDS;
}

/** SI: between which values a design has an unknown to lie; undefined where it takes it at its word. */
export function statedRange(
  base: Design,
  name: UnknownName,
): { readonly low: number; readonly high: number } | undefined {
  const core = OF_CORE[name];
  const fields = fieldsOf(name);
  if (core === undefined) return assumedFields(base).find(({ field }) => fields.includes(field));
  const { low, high, from } = base.core.range[core.field];
  if (from === 'given' || !(low > 0 && high > low)) return undefined;
  // Of several that move together the first is told, and the range of another may bind them.
  const share = (rangeOf(base, name)?.start ?? 0) / base.core.parameters[core.field];
  return { low: low * share, high: high * share };
}

/** Who asks for a value doubts it: the design is trusted no closer than this, as a standard deviation of the logarithm. */
const DOUBT = 0.1;

/** What is believed of an unknown: where its logarithm lies, and the standard deviation of that. */
export interface Belief {
  readonly centre: number;
  readonly spread: number;
}

/**
 * What the design says of an unknown before the captures speak; undefined where it says nothing.
 *
 * @param asked whether a fit was asked to find it
 */
export function believedOf(base: Design, name: UnknownName, asked: boolean): Belief | undefined {
  const spread = priorSpread(base, name);
  const centre = rangeOf(base, name)?.start ?? 0;
  if (spread === undefined || !(centre > 0)) return undefined;
  return { centre, spread: asked ? Math.max(DOUBT, spread) : spread };
}
