/** JSON as typed by the reader: an object whose text values keep their units as written. */
export type RawDesign = Readonly<Record<string, unknown>>;

const parts = (pointer: string): string[] =>
  pointer
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'));

/** The value at a JSON pointer; undefined where there is none. */
export function rawAt(raw: unknown, pointer: string): unknown {
  let value = raw;
  for (const part of parts(pointer)) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<string, unknown>)[part];
  }
  return value;
}

/** A copy with one value replaced; undefined removes it (the default then holds). Missing objects are made. */
export function withValueAt<T>(raw: T, pointer: string, value: unknown): T {
  return replace(raw, parts(pointer), value) as T;
}

function replace(node: unknown, path: readonly string[], value: unknown): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return value;
  if (Array.isArray(node)) {
    const index = Number(head);
    return node.map((item: unknown, i) => (i === index ? replace(item, rest, value) : item));
  }
  const object = (typeof node === 'object' && node !== null ? node : {}) as Record<string, unknown>;
  const next = replace(object[head], rest, value);
  if (next !== undefined) return { ...object, [head]: next };
  return Object.fromEntries(Object.entries(object).filter(([name]) => name !== head));
}

/** JSON pointers at which two designs differ, leaf by leaf, in the order of the first. */
export function differences(a: unknown, b: unknown, at = ''): string[] {
  if (Object.is(a, b)) return [];
  const both = [a, b].every((value) => typeof value === 'object' && value !== null && !Array.isArray(value));
  if (!both) return JSON.stringify(a) === JSON.stringify(b) ? [] : [at];
  const names = new Set([...Object.keys(a as object), ...Object.keys(b as object)]);
  return [...names].flatMap((name) =>
    differences(
      (a as Record<string, unknown>)[name],
      (b as Record<string, unknown>)[name],
      `${at}/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`,
    ),
  );
}

/** JSON pointers at which any of the designs differs from the first, names and notes apart. */
export function differingInputs(designs: readonly RawDesign[]): string[] {
  const [first, ...others] = designs;
  return [...new Set(others.flatMap((other) => differences(first, other)))].filter(
    (at) => at !== '/name' && at !== '/note',
  );
}

/** "drive › x › rise". */
export const pointerWords = (pointer: string): string => pointer.slice(1).replaceAll('/', ' › ');
