import { formatQuantity } from '../base/format-quantity.ts';
import type { Json } from '../base/json-patch.ts';
import { readQuantity } from '../base/units.ts';
import { checkDesign } from '../check/check-design.ts';
import type { Design } from '../design/design.ts';
import { FitError } from './bench-runs.ts';
import { UNKNOWNS, type UnknownName } from './unknown-table.ts';
import { rangeOf, writeValues, type UnknownRange } from './unknowns.ts';

/** Where an unknown is to start and how far it may go, SI; what is left out is as `rangeOf` gives it. */
export interface AskedRange {
  readonly start?: number;
  readonly low?: number;
  readonly high?: number;
}
export type AskedRanges = Readonly<Partial<Record<UnknownName, AskedRange>>>;

const PARTS = ['start', 'low', 'high'] as const;
type Part = (typeof PARTS)[number];
const WORDS: Readonly<Record<Part, string>> = { start: 'start', low: 'lower bound', high: 'upper bound' };

/** Ranges as typed: text with its unit, for a number without unit plain. Throws FitError at /ranges/NAME/PART. */
export function readRanges(
  typed: Readonly<Record<string, Readonly<Partial<Record<Part, string | number>>>>>,
): AskedRanges {
  return Object.fromEntries(
    Object.entries(typed).map(([name, parts]) => {
      if (!Object.hasOwn(UNKNOWNS, name)) throw unknownName(`/ranges/${name.slice(0, 40)}`, name);
      const read = PARTS.flatMap((part) => {
        const value = parts[part];
        return value === undefined ? [] : [[part, readPart(name as UnknownName, part, value)]];
      });
      return [name, Object.fromEntries(read) as AskedRange];
    }),
  );
}

function readPart(name: UnknownName, part: Part, typed: string | number): number {
  const { unit } = UNKNOWNS[name];
  const what = `The ${WORDS[part]} of ${name}`;
  const example = formatQuantity(UNKNOWNS[name].typical, unit, 3);
  const refuse = (why: string): FitError =>
    new FitError(`/ranges/${name}/${part}`, `${what} ${why}: write it like "${example}".`);
  if (unit === '1') {
    const value = typeof typed === 'number' ? typed : Number(typed.trim() === '' ? NaN : typed);
    if (Number.isFinite(value)) return value;
    throw refuse(`must be a plain number; received ${JSON.stringify(typed)}`);
  }
  if (typeof typed === 'number')
    throw refuse(`must have its unit (${unit}); received the bare number ${typed}`);
  const reading = readQuantity(typed, unit);
  if (reading.ok) return reading.value;
  throw refuse(`must be a quantity in ${unit}, but ${reading.why}`);
}

/**
 * Start and bounds of each unknown: those asked for, else those of the design. Every start and bound that was asked
 * for must by itself make a valid design. Throws FitError.
 */
export function planRanges(
  file: Json,
  base: Design,
  unknowns: readonly UnknownName[],
  asked: AskedRanges = {},
): UnknownRange[] {
  const idle = Object.keys(asked).find((name) => !(unknowns as readonly string[]).includes(name));
  if (idle !== undefined) {
    throw new FitError(
      `/ranges/${idle}`,
      `A range must belong to an unknown that is to be found; ${idle} is not among ${unknowns.join(', ')}: choose it too, or leave its range out.`,
    );
  }
  return unknowns.map((name) => {
    const own = rangeOf(base, name) as UnknownRange;
    const mine = asked[name] ?? {};
    const range = { ...own, ...mine };
    // A start that was asked for takes bounds that were not with it.
    if (mine.start !== undefined) {
      range.low = mine.low ?? Math.min(own.low, mine.start);
      range.high = mine.high ?? Math.max(own.high, mine.start);
    } else if (mine.low !== undefined || mine.high !== undefined) {
      range.start = Math.min(Math.max(own.start, range.low), range.high);
    }
    refuseRange(name, range, mine);
    for (const part of PARTS) if (mine[part] !== undefined) refuseInvalid(file, base, name, part, mine[part]);
    return { ...range, typical: Math.max(own.typical, Math.abs(range.start)) };
  });
}

function refuseRange(name: UnknownName, { start, low, high }: UnknownRange, mine: AskedRange): void {
  const said = (v: number): string => formatQuantity(v, UNKNOWNS[name].unit, 4);
  if (!(low < high)) {
    throw new FitError(
      `/ranges/${name}/${mine.high === undefined ? 'low' : 'high'}`,
      `The bounds of ${name} must leave room between them; received ${said(low)} to ${said(high)}: put the lower one below the upper one.`,
    );
  }
  if (start < low || start > high) {
    throw new FitError(
      `/ranges/${name}/start`,
      `The start of ${name} must lie within its bounds, ${said(low)} to ${said(high)}; received ${said(start)}: move it, or widen them.`,
    );
  }
}

/** A value that no design may have would only end in nonsense, or in a run that fails. */
function refuseInvalid(file: Json, base: Design, name: UnknownName, part: Part, value: number): void {
  try {
    checkDesign(writeValues(file, base, [name], [value]));
  } catch (error) {
    throw new FitError(
      `/ranges/${name}/${part}`,
      `The ${WORDS[part]} of ${name}, ${formatQuantity(value, UNKNOWNS[name].unit, 4)}, makes no valid design: ${(error as Error).message}`,
    );
  }
}

export const unknownName = (field: string, received: unknown): FitError =>
  new FitError(
    field,
    `An unknown must be one of ${Object.keys(UNKNOWNS).join(', ')}; received ${JSON.stringify(String(received).slice(0, 40))}.`,
  );
