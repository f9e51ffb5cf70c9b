import { formatQuantity } from '../../base/format-quantity.ts';
import type { Json } from '../../base/json-patch.ts';
import { DIMENSIONS, readQuantity, type Unit } from '../../base/units.ts';
import { StudyError, type StudyRequest } from './shape.ts';

/**
 * Reads the options of one study: every reader checks, fills the default in, and says in one sentence what is
 * wanted. Quantities are text with a unit, as in a design; counts and ratios are plain numbers.
 */
export interface OptionReader {
  readonly count: (name: string, fallback: number, low: number, high: number) => number;
  readonly ratio: (name: string, fallback: number, low: number, high: number) => number;
  readonly quantity: (name: string, fallback: number, unit: Unit, low: number, high: number) => number;
  readonly choice: <T extends string>(name: string, fallback: T, choices: readonly T[]) => T;
  readonly flag: (name: string, fallback: boolean) => boolean;
  readonly text: (name: string, fallback: string) => string;
  /** A list of what `read` reads; undefined when the option is absent. */
  readonly list: <T>(name: string, most: number, read: (value: Json, field: string) => T) => T[] | undefined;
  readonly seed: () => number;
  /** Refuses what no reader asked for. */
  readonly finish: () => void;
}

export function refuseOption(
  field: string,
  wanted: string,
  received: unknown,
  remedy: string,
  limit?: number,
): never {
  const shown = JSON.stringify(received) ?? 'nothing';
  throw new StudyError(
    'bad-option',
    field,
    `Study option ${field.replace(/^\/options\//u, '')} must be ${wanted}; received ${shown.length > 60 ? `${shown.slice(0, 57)}…` : shown}: ${remedy}.`,
    limit,
  );
}

export function readOptions(request: StudyRequest): OptionReader {
  const given: unknown = request.options ?? {};
  if (typeof given !== 'object' || given === null || Array.isArray(given))
    refuseOption('/options', 'an object', given, 'write {"seed": 1} or leave it out');
  const options = given as { readonly [key: string]: Json };
  const asked = new Set<string>();
  const take = (name: string): Json | undefined => {
    asked.add(name);
    return Object.hasOwn(options, name) ? options[name] : undefined;
  };
  const number = (name: string, low: number, high: number, whole: boolean, fallback: number): number => {
    const value = take(name);
    if (value === undefined) return fallback;
    const good =
      typeof value === 'number' && Number.isFinite(value) && (!whole || Number.isSafeInteger(value));
    if (good && value >= low && value <= high) return value;
    return refuseOption(
      `/options/${name}`,
      `${whole ? 'a whole number' : 'a number'} from ${low} to ${high}`,
      value,
      'choose one in that range',
      good ? (value < low ? low : high) : undefined,
    );
  };
  return {
    count: (name, fallback, low, high) => number(name, low, high, true, fallback),
    ratio: (name, fallback, low, high) => number(name, low, high, false, fallback),
    quantity(name, fallback, unit, low, high) {
      const value = take(name);
      return value === undefined ? fallback : readOptionQuantity(value, `/options/${name}`, unit, low, high);
    },
    choice<T extends string>(name: string, fallback: T, choices: readonly T[]) {
      const value = take(name);
      if (value === undefined) return fallback;
      const found = choices.find((choice) => choice === value);
      return (
        found ?? refuseOption(`/options/${name}`, `one of ${choices.join(', ')}`, value, 'name one of them')
      );
    },
    flag(name, fallback) {
      const value = take(name);
      if (value === undefined) return fallback;
      return typeof value === 'boolean'
        ? value
        : refuseOption(`/options/${name}`, 'true or false', value, 'write it without quotation marks');
    },
    text(name, fallback) {
      const value = take(name);
      if (value === undefined) return fallback;
      return typeof value === 'string' && value.length <= 100
        ? value
        : refuseOption(
            `/options/${name}`,
            'a text of at most 100 characters',
            value,
            'write it in quotation marks',
          );
    },
    list(name, most, read) {
      const value = take(name);
      if (value === undefined) return undefined;
      if (!Array.isArray(value) || value.length < 1 || value.length > most)
        return refuseOption(
          `/options/${name}`,
          `a list of 1 to ${most} entries`,
          value,
          'write it in brackets',
          most,
        );
      return (value as Json[]).map((entry, i) => read(entry, `/options/${name}/${i}`));
    },
    seed: () => number('seed', 0, Number.MAX_SAFE_INTEGER, true, 1),
    finish() {
      const unknown = Object.keys(options).find((name) => !asked.has(name));
      if (unknown === undefined) return;
      throw new StudyError(
        'unknown-option',
        `/options/${unknown.replace(/~/gu, '~0').replace(/\//gu, '~1')}`,
        `Study ${request.kind} has no option ${JSON.stringify(unknown.slice(0, 40))}: it takes ${[...asked].join(', ')}.`,
      );
    },
  };
}

/** A quantity in an option: text with a unit, within limits. */
function readOptionQuantity(value: Json, field: string, unit: Unit, low: number, high: number): number {
  const limited = Number.isFinite(low) && Number.isFinite(high);
  const wanted = limited
    ? `from ${formatQuantity(low, unit)} to ${formatQuantity(high, unit)}`
    : `${DIMENSIONS[unit]}`;
  if (unit === '1') {
    if (typeof value === 'number' && value >= low && value <= high) return value;
    return refuseOption(field, `a plain number ${wanted}`, value, 'choose one in that range');
  }
  if (typeof value !== 'string')
    return refuseOption(field, `text with a unit, ${wanted}`, value, `add the unit (${unit})`);
  const reading = readQuantity(value, unit);
  if (!reading.ok) return refuseOption(field, `text with a unit, ${wanted}`, value, `but it ${reading.why}`);
  if (reading.value >= low && reading.value <= high) return reading.value;
  return refuseOption(field, wanted, value, 'choose one in that range', reading.value < low ? low : high);
}
