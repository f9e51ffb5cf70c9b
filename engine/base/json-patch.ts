export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** One change to the raw design: the value at a JSON pointer, e.g. `/drive/x/readAmplitude` to `"0.37 A"`; no value removes. */
export interface Patch {
  readonly path: string;
  readonly value?: Json;
}

/** Changes to raw JSON by pointer; nothing here knows what the JSON means. */

const FORBIDDEN: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

/** Parts of a JSON pointer; undefined when it is not one (or names a prototype). */
export function pointerParts(pointer: string): string[] | undefined {
  if (!/^(\/[^/]+)+$/u.test(pointer)) return undefined;
  const parts = pointer
    .slice(1)
    .split('/')
    .map((part) => part.replace(/~1/gu, '/').replace(/~0/gu, '~'));
  return parts.some((part) => FORBIDDEN.has(part)) ? undefined : parts;
}

/** The value at a pointer, undefined where there is none. */
export function valueAt(root: unknown, pointer: string): unknown {
  let value = root;
  for (const part of pointerParts(pointer) ?? ['']) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<string, unknown>)[part];
  }
  return value;
}

/** A copy with the patches applied in order; objects on the way are made, a patch without value removes. */
export function applyPatches(raw: Json, patches: readonly Patch[]): Json {
  return patches.reduce((root, patch) => setAt(root, pointerParts(patch.path) ?? [], patch.value), raw);
}

function setAt(node: Json | undefined, parts: readonly string[], value: Json | undefined): Json {
  const [head, ...rest] = parts;
  if (head === undefined) return value ?? null;
  if (Array.isArray(node)) {
    const copy: Json[] = [...(node as readonly Json[])];
    copy[Number(head)] = setAt(copy[Number(head)], rest, value);
    return copy;
  }
  const copy: Record<string, Json> =
    typeof node === 'object' && node !== null ? { ...(node as Record<string, Json>) } : {};
  if (rest.length === 0 && value === undefined) delete copy[head];
  else if (rest.length > 0 && value === undefined && copy[head] === undefined) return copy;
  else copy[head] = setAt(copy[head], rest, value);
  return copy;
}
