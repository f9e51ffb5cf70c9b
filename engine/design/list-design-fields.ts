import { designJsonSchema } from './schema/design-schema.ts';
import type { Unit } from '../base/units.ts';

export type FieldKind = 'quantity' | 'count' | 'ratio' | 'flag' | 'choice' | 'bit' | 'text' | 'list';

/** One field of a design file, for an editor: what to show beside its box. */
export interface DesignFieldInfo {
  /** Dotted path as sentences use it, `drive.x.rise`. */
  readonly path: string;
  /** The same as JSON pointer, `/drive/x/rise`. */
  readonly pointer: string;
  readonly kind: FieldKind;
  /** SI unit of a quantity; undefined for the others. */
  readonly unit: Unit | undefined;
  /** What a file would say to get the default; undefined where leaving the field out has a meaning of its own. */
  readonly default: unknown;
  /** Ends of the range: text with unit for quantities, numbers for counts and ratios, lengths for lists. */
  readonly min: string | number | undefined;
  readonly max: string | number | undefined;
  readonly description: string;
  /** Choices of a choice or bit; words that a quantity takes besides numbers ("open"). */
  readonly options: readonly (string | number)[];
}

interface Node {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly description?: string;
  readonly default?: unknown;
  readonly enum?: readonly (string | number)[];
  readonly anyOf?: readonly { readonly const?: string | number }[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly maxLength?: number;
  readonly 'x-kind'?: FieldKind;
  readonly 'x-unit'?: Unit;
  readonly 'x-minimum'?: string;
  readonly 'x-maximum'?: string;
  readonly 'x-words'?: readonly string[];
}

/** Every field of a design file in the order of the schema; lists (programme, exceptions, ...) are one field each. */
export function listDesignFields(): readonly DesignFieldInfo[] {
  fields ??= walk(designJsonSchema() as Node, []);
  return fields;
}

let fields: readonly DesignFieldInfo[] | undefined;

function walk(node: Node, path: readonly string[]): readonly DesignFieldInfo[] {
  if (node.type === 'object' && node.properties && node['x-kind'] !== 'list')
    return Object.entries(node.properties).flatMap(([name, child]) => walk(child, [...path, name]));
  return [
    {
      path: path.join('.'),
      pointer: path.map((name) => `/${name}`).join(''),
      kind: node['x-kind'] ?? 'text',
      unit: node['x-unit'],
      default: node.default,
      min: node['x-minimum'] ?? node.minimum ?? node.minItems,
      max: node['x-maximum'] ?? node.maximum ?? node.maxItems ?? node.maxLength,
      description: node.description ?? '',
      options: node.enum ?? node['x-words'] ?? node.anyOf?.flatMap(({ const: value }) => value ?? []) ?? [],
    },
  ];
}
