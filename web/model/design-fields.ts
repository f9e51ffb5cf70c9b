import { designJsonSchema } from '../../engine/design/schema/design-schema.ts';
import { wordsOf } from './words-of.ts';

export interface SchemaNode {
  readonly type?: string;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly required?: readonly string[];
  readonly items?: SchemaNode | false;
  readonly prefixItems?: readonly SchemaNode[];
  readonly maxItems?: number;
  readonly enum?: readonly string[];
  readonly default?: unknown;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly examples?: readonly unknown[];
  readonly 'x-kind'?: string;
  readonly 'x-unit'?: string;
  readonly 'x-minimum'?: string;
  readonly 'x-maximum'?: string;
  readonly 'x-or-rate'?: boolean;
  readonly 'x-words'?: readonly string[];
}

export interface DesignField {
  /** JSON pointer into a design file. */
  readonly pointer: string;
  /** "Rise" of /drive/x/rise. */
  readonly label: string;
  readonly kind: 'quantity' | 'count' | 'ratio' | 'flag' | 'choice' | 'text' | 'list';
  /** Meaning in a builder's words. */
  readonly help: string;
  /** "from 1 ns to 100 us", empty where there is none. */
  readonly range: string;
  readonly options: readonly string[];
  /** What holds when nothing is typed, as text; empty where the design must or need not say. */
  readonly start: string;
  /** Of a list: how its rows are laid out follows from this. */
  readonly node?: SchemaNode;
}

export interface FieldGroup {
  readonly pointer: string;
  readonly title: string;
  readonly help: string;
  readonly fields: readonly DesignField[];
}

let groups: readonly FieldGroup[] | undefined;

/** Every field of a design in groups, made from the design's own schema: units, ranges and help come from there. */
export function designFieldGroups(): readonly FieldGroup[] {
  groups ??= collect(designJsonSchema() as SchemaNode, '', 'General');
  return groups;
}

function collect(node: SchemaNode, pointer: string, title: string): FieldGroup[] {
  const entries = Object.entries(node.properties ?? {}).filter(([name]) => name !== '$schema');
  const isGroup = (child: SchemaNode): boolean =>
    child.properties !== undefined && child['x-kind'] !== 'list';
  const nested = entries.filter(([, child]) => isGroup(child));
  const own = entries
    .filter(([, child]) => !isGroup(child))
    .map(([name, child]) => toField(child, `${pointer}/${name}`, wordsOf(name)));
  const group: FieldGroup = { pointer, title, help: node.description ?? '', fields: own };
  const deeper = nested.flatMap(([name, child]) =>
    collect(
      child,
      `${pointer}/${name}`,
      pointer === '' ? wordsOf(name) : `${title}, ${wordsOf(name).toLowerCase()}`,
    ),
  );
  return own.length > 0 ? [group, ...deeper] : deeper;
}

export function toField(node: SchemaNode, pointer: string, label: string): DesignField {
  const kind = (node['x-kind'] ?? (node.enum ? 'choice' : 'text')) as DesignField['kind'];
  const start = node.default;
  return {
    pointer,
    label,
    kind,
    help: node.description ?? '',
    range: rangeText(node),
    options: node.enum ?? [],
    start: start === undefined || typeof start === 'object' ? '' : String(start),
    ...(kind === 'list' ? { node } : {}),
  };
}

/** What a field or cell holds after typing: text with its unit as typed, plain numbers for counts and ratios. */
export function typedValue(field: Pick<DesignField, 'kind'>, text: string): unknown {
  const trimmed = text.trim();
  if (trimmed === '') return undefined;
  if (field.kind === 'flag') return trimmed === 'true';
  if (field.kind !== 'count' && field.kind !== 'ratio') return trimmed;
  const number = Number(trimmed.replace(',', '.').replace('−', '-'));
  return Number.isFinite(number) ? number : trimmed;
}

/** The other way round; empty where nothing is said. */
export function typedText(value: unknown): string {
  if (value === undefined) return '';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

function rangeText(node: SchemaNode): string {
  const words = (node['x-words'] ?? []).map((word) => ` or “${word}”`).join('');
  const low = node['x-minimum'] ?? node.minimum;
  const high = node['x-maximum'] ?? node.maximum;
  const orRate = node['x-or-rate'] ? ', or a rate such as 250 kHz' : '';
  return low === undefined || high === undefined
    ? ''
    : `from ${low} to ${high}${orRate}${words}`.replaceAll('-', '−');
}
