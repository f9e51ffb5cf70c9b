import type { ApiDocument, Schema } from './document.ts';
import { resolve } from './document.ts';
import { element } from './element.ts';

/** A schema as a list of its fields; what lies deeper is made when it is opened. */
export function schemaView(api: ApiDocument, source: Schema): HTMLElement {
  const { schema } = resolve(api, source);
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined && fieldsOf(api, source) === undefined)
    return element(
      'ul',
      { className: 'fields' },
      ...choices.map((choice) => item(api, choice.title ?? 'either', choice, choice.title === undefined)),
    );
  const fields = fieldsOf(api, source);
  if (fields === undefined) return element('p', { className: 'note' }, typeOf(api, source));
  const rows = Object.entries(fields.properties ?? {}).map(([name, field]) =>
    item(api, name, field, fields.required?.includes(name) ?? false),
  );
  return rows.length === 0
    ? element('p', { className: 'note' }, 'Any fields.')
    : element('ul', { className: 'fields' }, ...rows);
}

/** The object, or the object that a list holds, whose fields can be listed. */
function fieldsOf(api: ApiDocument, source: Schema): Schema | undefined {
  const { schema } = resolve(api, source);
  if (schema.properties !== undefined) return schema;
  return schema.items === undefined ? undefined : fieldsOf(api, schema.items);
}

function item(api: ApiDocument, name: string, source: Schema, required: boolean): HTMLElement {
  const { schema } = resolve(api, source);
  const line = [
    element('code', {}, name),
    ` ${typeOf(api, source)}${required ? ', required' : ''}`,
    rangeOf(schema),
    defaultOf(schema),
    schema.description === undefined ? '' : `. ${schema.description}`,
  ];
  const deeper =
    fieldsOf(api, source) !== undefined || schema.anyOf !== undefined || schema.oneOf !== undefined;
  if (!deeper) return element('li', {}, ...line);
  const inside = element('details', {}, element('summary', {}, ...line));
  inside.addEventListener('toggle', () => inside.append(schemaView(api, source)), { once: true });
  return element('li', {}, inside);
}

function rangeOf(schema: Schema): string {
  const low = schema['x-minimum'] ?? schema.minimum;
  const high = schema['x-maximum'] ?? schema.maximum;
  if (low === undefined || high === undefined) return '';
  return high === Number.MAX_SAFE_INTEGER ? ` from ${low}` : ` from ${low} to ${high}`;
}

function defaultOf(schema: Schema): string {
  if (schema['x-default'] !== undefined) return `, default: ${schema['x-default']}`;
  return schema.default === undefined ? '' : `, default ${JSON.stringify(schema.default)}`;
}

function typeOf(api: ApiDocument, source: Schema): string {
  const { schema, name } = resolve(api, source);
  if (name !== '') return name;
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.enum !== undefined) return schema.enum.map((word) => JSON.stringify(word)).join(' or ');
  if (schema.items !== undefined) return `list of ${typeOf(api, schema.items)}`;
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined) return choices.map((choice) => typeOf(api, choice)).join(' or ');
  return typeof schema.type === 'string' ? schema.type : (schema.type?.join(' or ') ?? 'anything');
}
