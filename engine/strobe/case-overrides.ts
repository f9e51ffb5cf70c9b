import { anotherAddress } from '../mat/another-address.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { worstPattern } from '../mat/stored-pattern.ts';

/** A patch of a checked design, SI: objects merge field by field, everything else is replaced. */
export type CaseOverrides = { readonly [Field in keyof Design]?: DeepPartial<Design[Field]> };

type DeepPartial<T> = T extends readonly unknown[]
  ? T
  : T extends object
    ? { readonly [Field in keyof T]?: DeepPartial<T[Field]> }
    : T;

export type CasePattern = 'given' | 'complement' | 'worst-one' | 'worst-zero';

/** What one run of the ensemble differs in from the design; an absent field is as the design says. */
export interface CaseSpec {
  readonly bit: 0 | 1;
  readonly pattern: CasePattern;
  readonly state: Design['initialState'];
  readonly address?: { readonly row: number; readonly column: number };
  /**
   * The cycle before: inhibited or not at an address that shares no line with the selected one, or the write of this
   * very bit at the selected address (`own`; inhibited for a ZERO).
   */
  readonly previous?: 'inhibited' | 'written' | 'own';
  /** Factor on every drive amplitude. */
  readonly drive?: number;
  /** Factor by which the supply is off: every drive amplitude, and threshold with slope, uncertainty and hysteresis. */
  readonly supply?: number;
  /** °C. */
  readonly temperature?: number;
}

const PATTERN_WORDS: Readonly<Record<CasePattern, string>> = {
  given: 'pattern as given',
  complement: 'complement of the given pattern',
  'worst-one': 'worst pattern for a ONE',
  'worst-zero': 'worst pattern for a ZERO',
};

/** Pattern, history and corner in words. */
export function describeCase(spec: CaseSpec): string {
  const { address, previous, drive, supply, temperature } = spec;
  const off = (factor: number): string =>
    `${factor > 1 ? '+' : '−'}${Math.abs(Math.round((factor - 1) * 1000) / 10)} %`;
  return [
    PATTERN_WORDS[spec.pattern],
    spec.state,
    address && `address ${address.row}, ${address.column}`,
    previous && historyWords(previous, spec.bit),
    drive !== undefined && `drive ${off(drive)}`,
    supply !== undefined && `supply ${off(supply)}`,
    temperature !== undefined && `${Math.round(temperature * 10) / 10} °C`.replace('-', '−'),
  ]
    .filter((part) => typeof part === 'string')
    .join(', ');
}

function historyWords(previous: NonNullable<CaseSpec['previous']>, bit: 0 | 1): string {
  if (previous !== 'own') return `${previous === 'inhibited' ? 'inhibited' : 'uninhibited'} cycle before`;
  return bit === 1 ? 'written in the cycle before' : 'kept by its own inhibited write';
}

export const nameCase = (spec: CaseSpec): string =>
  `${spec.bit === 1 ? 'ONE' : 'ZERO'}, ${describeCase(spec)}`;

/** The patch that turns the design into this case. Only what differs is in it. */
export function overridesOf(design: Design, spec: CaseSpec): CaseOverrides {
  const address = spec.address ?? design.selected;
  const selected = { row: address.row, column: address.column, bit: spec.bit };
  const moved: Design = { ...design, selected };
  const differs =
    selected.row !== design.selected.row ||
    selected.column !== design.selected.column ||
    selected.bit !== design.selected.bit;
  const programme = programmeOf(design, spec, selected);
  return {
    ...(differs ? { selected } : {}),
    ...(spec.state === design.initialState ? {} : { initialState: spec.state }),
    ...(spec.pattern === 'given' ? {} : { stored: patternOf(moved, spec.pattern) }),
    ...(programme.every((cycle, i) => cycle === design.programme[i]) &&
    programme.length === design.programme.length
      ? {}
      : { programme }),
    ...(spec.drive === undefined && spec.supply === undefined
      ? {}
      : { drive: scaledDrive(design, (spec.drive ?? 1) * (spec.supply ?? 1)) }),
    ...(spec.supply === undefined ? {} : { detector: scaledDetector(design, spec.supply) }),
    ...(spec.temperature === undefined ? {} : { temperature: spec.temperature }),
  };
}

/** A design with a patch applied; frozen and checked as far as the patch came from `overridesOf`. */
export function applyOverrides(design: Design, overrides: CaseOverrides): Design {
  return merge(design, overrides) as Design;
}

function merge(base: unknown, patch: unknown): unknown {
  if (!isRecord(base) || !isRecord(patch)) return patch;
  const merged: Record<string, unknown> = { ...base };
  for (const [key, value] of Object.entries(patch)) merged[key] = merge(base[key], value);
  return Object.freeze(merged);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function patternOf(design: Design, pattern: CasePattern): CaseOverrides['stored'] {
  if (pattern === 'complement') return { complement: !design.stored.complement };
  const bits = worstPattern(design, pattern === 'worst-one' ? 'one' : 'zero');
  const { rows, columns } = design.mat;
  return {
    kind: 'custom',
    complement: false,
    rows: Array.from({ length: rows }, (_, r) => bits.slice(r * columns, (r + 1) * columns).join('')),
  };
}

/**
 * The programme with the observed address and bit of the case: whatever an earlier cycle writes at the selected
 * address is this case's bit, or ONE and ZERO would be the same run.
 */
function programmeOf(design: Design, spec: CaseSpec, selected: Design['selected']): readonly Cycle[] {
  const { programme } = design;
  const last = programme.length - 1;
  const cycles = programme.map((cycle, i) => {
    if (cycle.row !== design.selected.row || cycle.column !== design.selected.column) return cycle;
    const { row, column } = selected;
    const rewrites = i < last && (cycle.write === 'one' || cycle.write === 'zero');
    const write = rewrites ? (selected.bit === 1 ? 'one' : 'zero') : cycle.write;
    const same = row === cycle.row && column === cycle.column && write === cycle.write;
    return same ? cycle : { ...cycle, row, column, write };
  });
  return spec.previous === undefined ? cycles : [cycleBefore(design, spec, selected), cycles[last]];
}

function cycleBefore({ mat }: Design, { bit, previous }: CaseSpec, selected: Design['selected']): Cycle {
  const { row, column } = selected;
  const whole = { lines: 'both', read: true } as const;
  if (previous === 'own') return { row, column, ...whole, write: bit === 1 ? 'one' : 'zero' };
  return { ...anotherAddress(mat, selected), ...whole, write: previous === 'inhibited' ? 'zero' : 'one' };
}

function scaledDetector({ detector }: Design, factor: number): CaseOverrides['detector'] {
  const { threshold, slope, uncertainty, hysteresis } = detector;
  return {
    threshold: threshold * factor,
    slope: slope * factor,
    uncertainty: uncertainty * factor,
    hysteresis: hysteresis * factor,
  };
}

function scaledDrive({ drive }: Design, factor: number): CaseOverrides['drive'] {
  const line = ({ source, readAmplitude, writeAmplitude }: Design['drive']['x']) => ({
    readAmplitude: readAmplitude * factor,
    writeAmplitude: writeAmplitude * factor,
    ...(source.kind === 'voltage' ? { source: { ...source, voltage: source.voltage * factor } } : {}),
  });
  return {
    x: line(drive.x),
    y: line(drive.y),
    inhibit: { amplitude: drive.inhibit.amplitude * factor },
  };
}
