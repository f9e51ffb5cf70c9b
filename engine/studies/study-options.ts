import { formatQuantity } from '../base/format-quantity.ts';
import { studyPart } from './kinds.ts';
import { optionsJsonSchema, readOptions } from './shared/options.ts';
import type { StudyKind, StudyRequest } from './shared/shape.ts';

/** One option of a study for a reader: everything from the schema that checks it. */
export interface StudyOptionInfo {
  readonly name: string;
  readonly kind: 'quantity' | 'count' | 'ratio' | 'flag' | 'choice' | 'text' | 'list';
  /** What holds where it is left out, in words or as it would be written. */
  readonly default: string;
  /** What it may be, with its unit. */
  readonly range: string;
  readonly meaning: string;
  /** Of a choice. */
  readonly choices: readonly string[];
}

interface Node {
  readonly description?: string;
  readonly default?: unknown;
  readonly enum?: readonly string[];
  readonly items?: Node;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly 'x-kind'?: StudyOptionInfo['kind'];
  readonly 'x-minimum'?: string;
  readonly 'x-maximum'?: string;
  readonly 'x-or-rate'?: boolean;
  readonly 'x-default'?: string;
  readonly 'x-range'?: string;
}

/**
 * Refuse bad options before anything is planned; what only the design can tell is refused by `planStudy`.
 *
 * @throws StudyError: code, JSON pointer, one sentence
 */
export function checkStudyOptions(request: Pick<StudyRequest, 'kind' | 'options'>): void {
  readOptions(request, studyPart(request.kind).options);
}

/** JSON Schema (draft 2020-12) of the options of a kind: units and ranges as in the schema of a design. */
export function studyOptionsSchema(kind: StudyKind): Readonly<Record<string, unknown>> {
  return optionsJsonSchema(studyPart(kind).options);
}

/** What the kind studies, in one sentence. */
export const studyMeaning = (kind: StudyKind): string => (studyOptionsSchema(kind) as Node).description ?? '';

/** The options of a kind in the order of its schema. */
export function listStudyOptions(kind: StudyKind): readonly StudyOptionInfo[] {
  const { properties = {} } = studyOptionsSchema(kind) as {
    readonly properties?: Readonly<Record<string, Node>>;
  };
  return Object.entries(properties).map(([name, node]) => ({
    name,
    kind: node['x-kind'] ?? 'text',
    default: node['x-default'] ?? written(node.default),
    range: rangeOf(node),
    meaning: node.description ?? '',
    choices: node.enum ?? [],
  }));
}

function rangeOf(node: Node): string {
  if (node['x-range'] !== undefined) return node['x-range'];
  if (node.enum) return node.enum.join(', ');
  if (node['x-kind'] === 'flag') return 'true or false';
  if (node['x-kind'] === 'list' && node.items)
    return `${node.minItems} to ${node.maxItems} of: ${rangeOf(node.items)}`;
  if (node['x-minimum'] !== undefined)
    return `${node['x-minimum']} to ${node['x-maximum']}${node['x-or-rate'] ? ', or a rate such as 250 kHz' : ''}`;
  const whole = node['x-kind'] === 'count' ? 'a whole number' : 'a number';
  return node.maximum === Number.MAX_SAFE_INTEGER
    ? `${whole} from ${node.minimum}`
    : `${whole} from ${node.minimum} to ${node.maximum}`;
}

function written(value: unknown): string {
  if (Array.isArray(value)) return value.map(written).join(', ');
  return typeof value === 'number' ? formatQuantity(value, '1', 4) : String(value);
}
