import { coreUncertainty } from '../core/unknowns/core-uncertainty.ts';
import { peakStray, withPeak } from '../core/unknowns/drive-stray.ts';
import { checkDesign } from '../check/check-design.ts';
import { applyPatches, type Json } from '../base/json-patch.ts';
import { exactly, type CoreRanges } from '../design/core-ranges.ts';
import type { CoreChoice, CoreParameters, CoreProperty } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { askedDrive } from '../drive/at-temperature.ts';
import { assumedFields } from '../estimates/assumed-fields.ts';
import { UNKNOWNS } from '../fitting/unknown-table.ts';
import { numberAt, withValues } from '../fitting/unknowns.ts';
import type { Direction } from './direction.ts';
import { ownCoreDirections } from './own-core.ts';
import { REACH, type Knowledge, type KnownValue } from './knowledge.ts';

/**
 * Everything that a prediction of this design depends on and that is not known: what captures told, what is open of the
 * core, fields that were not given, and how far the model's peak strays away from the drives that were measured.
 *
 * @param measured A: drives at which the core's peak is known
 */
export function directionsOf(design: Design, known: Knowledge, measured: readonly number[]): Direction[] {
  return [
    ...known.values.map((value) => fitted(design, value)),
    ...coreDirections(reopened(design, known)),
    ...ownCoreDirections(design),
    ...wireDirections(design),
    ...(measured.length > 0 ? [awayFrom(measured)] : []),
  ];
}

const moved = (pointer: string): boolean => !/^\/(tolerances|detector)\//u.test(pointer);

/** Fields of wires, edges and amplifier that were left to a default: ranges are factors. */
const wireDirections = (design: Design): Direction[] =>
  assumedFields(design)
    .filter(({ field }) => moved(field))
    .map(({ field, value, low, high }): Direction => {
      const spread = Math.log(high / low) / (2 * REACH);
      return {
        name: field,
        kind: 'assumed',
        low: Math.log(low / value) / spread,
        high: Math.log(high / value) / spread,
        middle: 0,
        spread: 1,
        at: (from, z) =>
          applyPatches(from as unknown as Json, [
            { path: field, value: numberAt(from, field) * Math.exp(spread * z) },
          ]) as unknown as Design,
      };
    });

/** Greatest relative step in which a fitted value is moved. */
const STEP = 0.05;
/** Logarithm of the factor by which it may be moved at all. */
const FARTHEST = 0.7;

/** A fitted value: in another condition it keeps its ratio, so that its relative deviation holds there too. */
function fitted(
  design: Design,
  { name, value, deviation, before = Infinity, bounds }: KnownValue,
): Direction {
  const room = Math.min(before, (bounds.high - bounds.low) / Math.sqrt(12));
  const own = Math.min(deviation, room);
  const here = numberAt(design, UNKNOWNS[name].fields[0]);
  const share = value === 0 || here === 0 ? undefined : own / Math.abs(value);
  const reach = share === undefined ? 1 : Math.min(1, STEP / share);
  return {
    name,
    kind: 'fitted',
    low: -reach,
    high: reach,
    farthest: share === undefined ? REACH : FARTHEST / share,
    middle: 0,
    // Before the captures it was as the design believed, or else somewhere within its bounds.
    spread: own > 0 ? room / own : 0,
    at: (from, z) => {
      const at = numberAt(from, UNKNOWNS[name].fields[0]);
      return withValues(from, [name], [share === undefined ? at + z * own : at * Math.exp(share * z)]);
    },
  };
}

/**
 * The core with what a fit has moved in proportion open again: a fit that moves all thresholds by one factor tells that
 * factor, and nothing of their ratios.
 */
function reopened(design: Design, { design: file, values }: Knowledge): CoreChoice {
  const { core } = design;
  const pointer = '/core/parameters/';
  const property = (field: string): CoreProperty | undefined =>
    field.startsWith(pointer) ? (field.slice(pointer.length) as CoreProperty) : undefined;
  const told = new Set(values.map(({ name }) => property(UNKNOWNS[name].fields[0])));
  const along = values.flatMap(({ name }) => UNKNOWNS[name].fields.slice(1).map(property));
  const before = checkDesign(applyPatches(file, [{ path: '/core/parameters' }])).core;
  const range = { ...core.range } as { -readonly [Name in keyof CoreRanges]: CoreRanges[Name] };
  for (const name of told) if (name !== undefined) range[name] = exactly(core.parameters[name]);
  for (const name of along) {
    if (name === undefined || told.has(name) || range[name].from !== 'given') continue;
    const usual = before.range[name];
    const share = before.parameters[name] === 0 ? 1 : core.parameters[name] / before.parameters[name];
    range[name] = { ...usual, low: usual.low * share, high: usual.high * share };
  }
  return { ...core, range };
}

/** What is open of the core, one by one, with the parameters that follow. */
function coreDirections(core: CoreChoice): Direction[] {
  return coreUncertainty(core).map(({ parameter, value, low, high, from, cores }): Direction => {
    const read = from === 'measured' || from === 'handbook';
    const one = (high - low) / (read ? 2 * REACH : Math.sqrt(12));
    const [under, over] = [(low - value) / one, (high - value) / one];
    return {
      name: parameter,
      kind: 'core',
      low: under,
      high: over,
      ...(parameter.includes(' of the readings') ? { factor: one } : {}),
      middle: (under + over) / 2,
      spread: 1,
      at: (design, z) => {
        const end = z < 0 ? under : over;
        const other = z < 0 ? cores.low : cores.high;
        if (end === 0 || z === 0) return design;
        return withCore(design, toward(design.core.parameters, core.parameters, other, z / end));
      },
    };
  });
}

const withCore = (design: Design, parameters: CoreParameters): Design => ({
  ...design,
  core: { ...design.core, parameters },
});

/** A core moved by a part of the way from one to another: by factors where both are positive. */
function toward(p: CoreParameters, from: CoreParameters, to: CoreParameters, part: number): CoreParameters {
  const names = Object.keys(p) as (keyof CoreParameters)[];
  const next = Object.fromEntries(
    names.map((name) => {
      const [a, b] = [from[name], to[name]];
      if (a === b) return [name, p[name]];
      return [name, a > 0 && b > 0 ? p[name] * (b / a) ** part : p[name] + part * (b - a)];
    }),
  ) as unknown as CoreParameters;
  return { ...next, ...within(next) };
}

/** No core has these outside their limits, however far it is moved. */
const within = (p: CoreParameters): Partial<CoreParameters> => ({
  squareness: Math.min(0.9995, p.squareness),
  ringSpread: Math.min(0.3, Math.max(0, p.ringSpread)),
  decayResistance: Math.max(0, p.decayResistance),
  elasticKnee: Math.max(p.elasticKnee, p.elasticSaturated),
});

export const AWAY = 'peak away from the drives that were measured';

/** One slope of ln(peak) against ln(drive) beyond the drives that were measured (core/unknowns/drive-stray.ts). */
const awayFrom = (measured: readonly number[]): Direction => ({
  name: AWAY,
  kind: 'drive',
  low: -REACH,
  high: REACH,
  middle: 0,
  spread: 1,
  at: (design, z) => {
    const stray = strayFrom(measured, askedDrive(design));
    return stray === 0 ? design : withCore(design, withPeak(design.core.parameters, Math.exp(stray * z)));
  },
});

/** Standard deviation of ln(peak) at a drive, signed: opposite below and above what was measured. */
function strayFrom(measured: readonly number[], drive: number): number {
  const below = Math.max(...measured.filter((d) => d <= drive));
  const above = Math.min(...measured.filter((d) => d >= drive));
  const [fullDrive, secondDrive] = Number.isFinite(below)
    ? [below, Number.isFinite(above) ? above : undefined]
    : [above, undefined];
  const stray = peakStray({ fullDrive, secondDrive } as CoreChoice['test'], drive);
  return drive < fullDrive ? -stray : stray;
}
