import { designJsonSchema, type DesignFile } from './schema/design-schema.ts';
import type { Design } from './design.ts';
import { writeQuantity } from '../base/format-quantity.ts';
import type { Unit } from '../base/units.ts';

interface Node {
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly 'x-unit'?: Unit;
  readonly 'x-words'?: readonly string[];
}

/**
 * The design file that says what a checked design holds: every field, quantities as text with a unit and every
 * digit, so that checkDesign(designToJson(design)) equals design. The core is written as parameters.
 */
export function designToJson(design: Design): DesignFile {
  return write(design, designJsonSchema() as Node) as DesignFile;
}

function write(value: unknown, node: Node | undefined): unknown {
  if (node?.['x-unit'] !== undefined && typeof value === 'number')
    return wordFor(value, node['x-words'] ?? []) ?? writeQuantity(value, node['x-unit']);
  if (Array.isArray(value)) return value.map((item) => write(item, node?.items));
  if (value === null || typeof value !== 'object') return value;
  const known = Object.entries(node?.properties ?? {});
  const held = value as Readonly<Record<string, unknown>>;
  return Object.fromEntries(
    known.flatMap(([name, child]) => (held[name] === undefined ? [] : [[name, write(held[name], child)]])),
  );
}

/** The word that stands for a value that no number with a unit can be: an open end, no clamp, a dead short. */
function wordFor(value: number, words: readonly string[]): string | undefined {
  if (value === Number.POSITIVE_INFINITY) return words.find((word) => word !== 'short');
  return value === 0 ? words.find((word) => word === 'short') : undefined;
}
