/** The parts of the OpenAPI document that are shown. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly default?: unknown;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly title?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly 'x-minimum'?: string;
  readonly 'x-maximum'?: string;
  /** What holds when it is left out, in words. */
  readonly 'x-default'?: string;
}

interface Content {
  readonly content?: Readonly<Record<string, { readonly schema?: Schema }>>;
}

export interface Parameter {
  readonly name: string;
  readonly in: string;
  readonly required?: boolean;
  readonly schema?: Schema;
}

export interface Operation {
  readonly tags?: readonly string[];
  readonly summary?: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: Content;
  readonly responses?: Readonly<Record<string, Content & { readonly description?: string }>>;
}

export interface ApiDocument {
  readonly info: { readonly title: string; readonly version: string; readonly description?: string };
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components?: { readonly schemas?: Readonly<Record<string, Schema>> };
}

/** A schema behind a reference, with the name by which it goes. */
export function resolve(
  { components }: ApiDocument,
  schema: Schema,
): { readonly schema: Schema; readonly name: string } {
  const name = schema.$ref?.split('/').at(-1) ?? '';
  return { schema: name === '' ? schema : (components?.schemas?.[name] ?? {}), name };
}

/** The one form of a body or an answer that is described: its type and its schema. */
export function formOf({
  content = {},
}: Content): { readonly type: string; readonly schema: Schema } | undefined {
  const [first] = Object.entries(content);
  return first && { type: first[0], schema: first[1].schema ?? {} };
}
