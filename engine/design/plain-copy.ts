import { DesignError, dottedPath, jsonPointer } from './design-error.ts';

/** Most values, and deepest nesting, of anything that is read as a design. */
export const MOST_VALUES = 60_000;
const DEEPEST = 12;
const LONGEST_TEXT = 4000;

/**
 * A deep copy made of plain objects, lists, texts, numbers, booleans and null: what JSON can say. Getters run at
 * most once, prototypes are left behind, and a value that is too large or too deep (or refers to itself) is
 * refused before anything else looks at it. Throws DesignError.
 */
export function plainCopy(raw: unknown): unknown {
  let values = 0;
  const copy = (value: unknown, path: readonly PropertyKey[]): unknown => {
    if (++values > MOST_VALUES)
      throw tooLarge(path, `must hold at most ${MOST_VALUES} values in all, but holds more`);
    if (path.length > DEEPEST)
      throw tooLarge(path, `must be nested at most ${DEEPEST} deep, but goes deeper`);
    if (value === null || typeof value === 'boolean' || typeof value === 'number') return value;
    if (typeof value === 'string') {
      if (value.length <= LONGEST_TEXT) return value;
      throw tooLarge(path, `must be text of at most ${LONGEST_TEXT} characters, but has ${value.length}`);
    }
    if (typeof value !== 'object') throw notPlain(path, `is a ${typeof value}`);
    if (Array.isArray(value)) return Array.from(value, (item, i) => copy(item, [...path, i]));
    const prototype: unknown = Object.getPrototypeOf(value);
    if (prototype !== null && Object.getPrototypeOf(prototype) !== null)
      throw notPlain(path, 'is an instance of a class');
    const plain: Record<string, unknown> = Object.create(null) as Record<string, unknown>;
    for (const key of Object.keys(value))
      plain[key] = copy((value as Record<string, unknown>)[key], [...path, key]);
    return plain;
  };
  try {
    return copy(raw, []);
  } catch (error) {
    if (error instanceof DesignError) throw error;
    throw notPlain([], 'cannot be read');
  }
}

function tooLarge(path: readonly PropertyKey[], why: string): DesignError {
  const short = path.slice(0, 4);
  return new DesignError([
    {
      code: 'too-large',
      field: jsonPointer(short),
      message: `${dottedPath(short)} ${why}; leave out what is not needed.`,
    },
  ]);
}

function notPlain(path: readonly PropertyKey[], why: string): DesignError {
  return new DesignError([
    {
      code: 'shape',
      field: jsonPointer(path),
      message: `${dottedPath(path)} must be what JSON can hold (an object, a list, text, a number, true or false), but ${why}.`,
    },
  ]);
}
