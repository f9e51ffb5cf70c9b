import * as z from 'zod';
import { formatQuantity } from '../../base/format-quantity.ts';
import { DIMENSIONS, readPeriod, readQuantity, type Unit } from '../../base/units.ts';

// Zod would otherwise compile parsers from text, which a page with a strict content policy reports as an attack.
z.config({ jitless: true });

/**
 * Builders of design fields. Each refuses with the rest of a sentence whose subject is the field's path:
 * "must be a time from 1 ns to 10 us, but is 40, a bare number without a unit; write for example "40 ns"".
 */

export interface QuantitySpec {
  readonly unit: Unit;
  readonly from: string;
  readonly to: string;
  /** Meaning in a builder's words. */
  readonly is: string;
  /** A period in seconds that may be given as a rate: "250 kHz" is 4 us. */
  readonly orRate?: true;
  /** Words that stand for a value, such as "open". */
  readonly words?: Readonly<Record<string, number>>;
  /** Shown in the remedy where there is no default. */
  readonly example?: string;
}

/** A dimensional value: text with a unit in, SI out. Required. */
export function required(spec: QuantitySpec & { readonly example: string }): z.ZodType<number, string> {
  return quantityOf<number>(spec, spec.words ?? {}, spec.example);
}

/** The same with a default. */
export function quantity(start: string, spec: QuantitySpec): z.ZodPrefault<z.ZodType<number, string>> {
  return quantityOf<number>(spec, spec.words ?? {}, spec.example ?? start).prefault(start);
}

/** The same with no default of its own: undefined where it is left out or where `word` stands for it. */
export function optionalQuantity(
  spec: QuantitySpec & { readonly example: string },
  word?: string,
): z.ZodOptional<z.ZodType<number | undefined, string>> {
  const words = word === undefined ? (spec.words ?? {}) : { ...spec.words, [word]: undefined };
  return quantityOf<number | undefined>(spec, words, spec.example).optional();
}

function quantityOf<T extends number | undefined>(
  spec: QuantitySpec,
  words: Readonly<Record<string, T>>,
  example: string,
): z.ZodType<T, string> {
  const { unit, from, to } = spec;
  const names = Object.keys(words);
  const orWords = names.map((word) => ` or "${word}"`).join('');
  const orRate = spec.orRate ? ', or a rate such as "250 kHz"' : '';
  const must = `must be ${DIMENSIONS[unit]} from ${from} to ${to}${orRate}${orWords}`;
  const low = bound(from, unit);
  const high = bound(to, unit);
  const refuse = (why: string, remedy = `write for example "${example}"`): string =>
    `${must}, but ${why}; ${remedy}`;
  const tolerance = 1e-12 * Math.max(Math.abs(low), Math.abs(high));
  const read = (text: string): T | string => {
    if (Object.hasOwn(words, text)) return words[text];
    const reading = spec.orRate ? readPeriod(text) : readQuantity(text, unit);
    if (!reading.ok) return refuse(reading.why);
    const { value } = reading;
    const asRate = spec.orRate && /Hz\s*$/u.test(text);
    const is = `is ${JSON.stringify(text)}${asRate ? `, a period of ${formatQuantity(value, 's')}` : ''}`;
    if (value < low - tolerance) return refuse(is, `choose at least ${from}`);
    if (value > high + tolerance) return refuse(is, tooLarge(text, to));
    return value as T;
  };
  return z
    .string({ error: (issue) => refuse(bare(issue.input)) })
    .transform((text, context): T => {
      const answer = read(text);
      if (typeof answer !== 'string') return answer;
      context.issues.push({ code: 'custom', message: answer, input: text, params: { limit: must } });
      return z.NEVER;
    })
    .meta({
      description: spec.is,
      'x-kind': 'quantity',
      'x-unit': unit,
      'x-minimum': from,
      'x-maximum': to,
      'x-words': names,
      ...(spec.orRate ? { 'x-or-rate': true } : {}),
      examples: [example],
    });
}

function tooLarge(text: string, to: string): string {
  return /\dM|\d M/u.test(text) ? `choose at most ${to} ("M" is mega, "m" is milli)` : `choose at most ${to}`;
}

function bound(text: string, unit: Unit): number {
  const reading = readQuantity(text, unit);
  if (!reading.ok) throw new Error(`The range ends at ${JSON.stringify(text)}, which ${reading.why}.`);
  return reading.value;
}

interface NumberSpec {
  readonly from: number;
  readonly to: number;
  readonly is: string;
}

/** A whole number. */
export function count(spec: NumberSpec): z.ZodNumber {
  const must = `must be a whole number from ${spec.from} to ${spec.to}`;
  const error = (issue: { readonly input?: unknown }): string =>
    `${must}, but ${received(issue.input)}; ${inRange(issue.input)}`;
  return z
    .number({ error })
    .int({ error })
    .min(spec.from, { error })
    .max(spec.to, { error })
    .meta({ description: spec.is, 'x-kind': 'count' });
}

/** A plain ratio: fractions are numbers, 0.05 and not "5 %". */
export function ratio(spec: NumberSpec): z.ZodNumber {
  const must = `must be a plain number from ${spec.from} to ${spec.to}`;
  const error = (issue: { readonly input?: unknown }): string =>
    `${must}, but ${received(issue.input)}; ${inRange(issue.input)}`;
  return z
    .number({ error })
    .min(spec.from, { error })
    .max(spec.to, { error })
    .meta({ description: spec.is, 'x-kind': 'ratio' });
}

export function flag(is: string): z.ZodBoolean {
  return z
    .boolean({
      error: (issue) =>
        `must be true or false, but ${received(issue.input)}; write true or false without quotes`,
    })
    .meta({ description: is, 'x-kind': 'flag' });
}

export function choice<const T extends readonly string[]>(
  options: T,
  is: string,
): z.ZodEnum<{ [K in T[number]]: K }> {
  const list = options.map((option) => `"${option}"`).join(', ');
  return z
    .enum(options, {
      error: (issue) => `must be one of ${list}, but ${received(issue.input)}; choose one of them`,
    })
    .meta({ description: is, 'x-kind': 'choice' });
}

export function words(longest: number, is: string): z.ZodString {
  const error = (issue: { readonly input?: unknown }): string =>
    `must be text of at most ${longest} characters, but ${received(issue.input)}; ${typeof issue.input === 'string' ? 'shorten it' : 'put it in quotes'}`;
  return z.string({ error }).max(longest, { error }).meta({ description: is, 'x-kind': 'text' });
}

/** An object whose fields all have defaults, so that it can be left out. */
export function group<T extends z.ZodRawShape>(
  is: string,
  shape: T,
): z.ZodPrefault<z.ZodObject<T, z.core.$strict>> {
  return record(is, shape).prefault({} as never);
}

/** An object that must be there. */
export function record<T extends z.ZodRawShape>(is: string, shape: T): z.ZodObject<T, z.core.$strict> {
  return z.strictObject(shape, { error: (issue) => objectError(issue) }).meta({ description: is });
}

function objectError(issue: { readonly code?: string; readonly input?: unknown }): string | undefined {
  return issue.code === 'invalid_type'
    ? `must be an object in braces, but ${received(issue.input)}; ${issue.input === undefined ? 'state it' : 'leave it out to get its defaults'}`
    : undefined;
}

export function list<T extends z.ZodType>(item: T, from: number, to: number, is: string): z.ZodArray<T> {
  const error = (issue: { readonly input?: unknown }): string =>
    `must be a list of ${from === to ? from : `${from} to ${to}`} entries, but ${received(issue.input)}; write them in square brackets`;
  return z
    .array(item, { error })
    .min(from, { error })
    .max(to, { error })
    .meta({ description: is, 'x-kind': 'list' });
}

const inRange = (input: unknown): string =>
  input === undefined
    ? 'give it'
    : typeof input === 'number'
      ? 'choose a number in that range'
      : 'write it without quotes or unit';

/** What was received, as the predicate of a sentence. Long text is cut. */
export function received(input: unknown): string {
  if (input === undefined) return 'is missing';
  if (Array.isArray(input)) return `is a list of ${input.length}`;
  if (input !== null && typeof input === 'object') return 'is an object';
  if (typeof input === 'string')
    return `is ${JSON.stringify(input.length > 60 ? `${input.slice(0, 57)}...` : input)}`;
  return `is ${String(input)}`;
}

const bare = (input: unknown): string =>
  typeof input === 'number' ? `is ${input}, a bare number without a unit` : received(input);
