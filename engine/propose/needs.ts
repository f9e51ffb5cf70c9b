import * as z from 'zod';
import type { Json } from '../base/json-patch.ts';
import { dottedPath, jsonPointer, refused } from '../design/design-error.ts';
import { knownNames } from '../design/field-names.ts';
import { plainCopy } from '../design/plain-copy.ts';
import { readFile } from '../design/read-file.ts';
import { needsSchema, NOT_TO_KEEP } from './needs-schema.ts';

/** Needs as they were read: SI, defaults filled. */
export type Needs = z.output<typeof needsSchema> & {
  /** The file itself: what a design takes over word for word. */
  readonly raw: Json;
};

/** Unknown in, complete needs out. Throws DesignError, each problem one sentence. */
export function readNeeds(raw: unknown): Needs {
  const plain = plainCopy(raw);
  const needs = readFile(needsSchema, plain, (path) => knownNames(path, needsJsonSchema()), 'needs file');
  const refuse = (path: readonly (string | number)[], rest: string): never => {
    const message = `${dottedPath(path)} ${rest}.`;
    throw refused([{ code: 'rule', field: jsonPointer(path), message }]);
  };
  const { temperature, wire, keep } = needs;
  const q = (value: number): string => `${value} degC`;
  if (temperature.from > temperature.to)
    refuse(
      ['temperature', 'to'],
      `must be at least temperature.from (${q(temperature.from)}), but is ${q(temperature.to)}; exchange the two`,
    );
  if (temperature.to - temperature.from > 160)
    refuse(
      ['temperature', 'to'],
      `must be at most 160 K above temperature.from, but is ${temperature.to - temperature.from} K above; narrow the range`,
    );
  if (wire.bareDiameter !== undefined && wire.diameter !== undefined && wire.bareDiameter > wire.diameter)
    refuse(
      ['wire', 'bareDiameter'],
      'must be at most wire.diameter, which counts the insulation; exchange the two',
    );
  const { mat } = needs;
  if (mat && mat.rows * mat.columns < needs.words)
    refuse(
      ['mat'],
      `must hold all ${needs.words} words, but has ${mat.rows * mat.columns} cores; choose more rows or columns`,
    );
  for (const [path, need] of Object.entries(NOT_TO_KEEP)) {
    const parts = path.split('.');
    const held = parts.reduce<unknown>(
      (at, part) =>
        typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[part] : undefined,
      keep,
    );
    if (held !== undefined)
      refuse(['keep', ...parts], `must not be kept, because it follows from the needs; state it as ${need}`);
  }
  const kind = (keep['winding'] as { readonly kind?: unknown } | undefined)?.kind;
  if (kind === 'custom')
    refuse(
      ['keep', 'winding', 'kind'],
      'must be a winding that is proposed, but is "custom"; keep another, or study that design by itself',
    );
  if (typeof kind === 'string' && kind.startsWith('separate') && !needs.fourthWire)
    refuse(
      ['keep', 'winding', 'kind'],
      `must do without a fourth wire, but is "${kind}"; set fourthWire to true, or keep another`,
    );
  return { ...needs, raw: plain as Json };
}

let made: Readonly<Record<string, unknown>> | undefined;

/** JSON Schema (draft 2020-12) of a needs file. */
export function needsJsonSchema(): Readonly<Record<string, unknown>> {
  made ??= { ...z.toJSONSchema(needsSchema, { io: 'input' }), title: 'Strobewright needs' };
  return made;
}
