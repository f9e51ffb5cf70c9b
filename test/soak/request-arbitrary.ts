import * as fc from 'fast-check';
import type { Sent } from '../server/http-client.ts';

/** The parts of an OpenAPI document that requests are generated from. */
export interface OpenApi {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
}

interface Operation {
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly schema: Schema }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema: Schema }>> };
}

type Schema = { readonly [key: string]: unknown };

export interface Generated {
  readonly path: string;
  readonly sent: Sent;
}

const METHODS = ['get', 'post', 'put', 'delete', 'patch', 'head', 'options'];
const HOSTILE = [
  '../../../etc/passwd',
  '..\\..\\x',
  '%00',
  '__proto__',
  'constructor',
  "'; DROP TABLE designs; --",
  '<script>alert(1)</script>',
  '=cmd|x',
  '\u202E',
  '\u0000',
  'a'.repeat(300),
  '',
  '-',
  '🔔',
];
const word = fc.oneof(fc.constantFrom(...HOSTILE), fc.string({ maxLength: 40, unit: 'binary' }));
const QUANTITIES =
  '370 mA|40 ns|20 mV|1 pF|0 s|-5 mV|1e308 V|1,5 us|50 mil|25 degC|auto|open|none|40|ns|40 ns ns|1/0 s|\u0663 ns|' +
  '40\u00a0ns|NaN s|Infinity V|999999999999999999999999999999999999999999999 s';
const quantity = fc.constantFrom(...QUANTITIES.split('|'));
const anything = fc.oneof(
  fc.jsonValue({ maxDepth: 4 }) as fc.Arbitrary<unknown>,
  quantity,
  word,
  fc.constantFrom(null, true, 0, -1, 1.5, 1e308, -1e308, 2 ** 53, [], {}, [[]], { a: {} }),
);

/** A value near a JSON Schema: mostly of its shape, now and then something else in its place. */
function near(schema: Schema | undefined, root: OpenApi, depth: number): fc.Arbitrary<unknown> {
  if (schema === undefined || depth > 6) return anything;
  const { $ref, anyOf, allOf, properties, items } = schema as {
    readonly $ref?: string;
    readonly anyOf?: readonly Schema[];
    readonly allOf?: readonly Schema[];
    readonly properties?: Readonly<Record<string, Schema>>;
    readonly items?: Schema;
  };
  const choices = schema['enum'] as readonly unknown[] | undefined;
  let shaped: fc.Arbitrary<unknown>;
  if ($ref !== undefined) shaped = near(root.components.schemas[$ref.split('/').at(-1)!], root, depth + 1);
  else if (anyOf !== undefined) shaped = fc.oneof(...anyOf.map((option) => near(option, root, depth + 1)));
  else if (allOf !== undefined) shaped = near(allOf[0], root, depth + 1);
  else if (choices !== undefined) shaped = fc.constantFrom(...choices);
  else if (properties !== undefined) {
    const fields = Object.entries(properties).map(
      ([name, field]) => [name, near(field, root, depth + 1)] as const,
    );
    shaped = fc.record(Object.fromEntries(fields), { requiredKeys: [] });
  } else if (schema['type'] === 'array') shaped = fc.array(near(items, root, depth + 1), { maxLength: 4 });
  else if (schema['type'] === 'number' || schema['type'] === 'integer') {
    shaped = fc.oneof(fc.integer({ min: -2, max: 200 }), fc.double());
  } else if (schema['type'] === 'string')
    shaped = fc.oneof({ weight: 4, arbitrary: quantity }, { weight: 1, arbitrary: word });
  else if (schema['type'] === 'boolean') shaped = fc.boolean();
  else shaped = anything;
  return fc.oneof({ weight: 12, arbitrary: shaped }, { weight: 1, arbitrary: anything });
}

/** Texts of a body: of the schema, damaged, or no JSON at all. */
function bodyText(schema: Schema | undefined, root: OpenApi): fc.Arbitrary<string> {
  const whole = near(schema, root, 0).map((value) => JSON.stringify(value) ?? '');
  const cut = fc
    .tuple(whole, fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([text, at]) => text.slice(0, text.length * at));
  const damaged = fc
    .tuple(whole, fc.nat(), word)
    .map(
      ([text, at, put]) =>
        text.slice(0, at % (text.length + 1)) + put + text.slice((at % (text.length + 1)) + 1),
    );
  return fc.oneof(
    { weight: 6, arbitrary: whole },
    { weight: 1, arbitrary: cut },
    { weight: 1, arbitrary: damaged },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 200 }) },
  );
}

/** Requests to every address of the document: right and wrong methods, parameters, headers and bodies. */
export function requestArbitrary(root: OpenApi): fc.Arbitrary<Generated> {
  const operations = Object.entries(root.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
  );
  return fc.oneof(
    ...operations.map(({ path, method, operation }) => {
      const [type, content] = Object.entries(operation.requestBody?.content ?? {})[0] ?? [
        'application/json',
        undefined,
      ];
      const queries = (operation.parameters ?? []).filter((parameter) => parameter.in === 'query');
      const query = fc.record(
        Object.fromEntries(queries.map(({ name, schema }) => [name, near(schema, root, 3).map(String)])),
        { requiredKeys: [] },
      ) as fc.Arbitrary<Record<string, string>>;
      return fc
        .record({
          method: fc.oneof(
            { weight: 8, arbitrary: fc.constant(method) },
            { weight: 1, arbitrary: fc.constantFrom(...METHODS) },
          ),
          parts: fc.array(fc.oneof(word, fc.uuid(), fc.nat(9).map(String)), { minLength: 3, maxLength: 3 }),
          query,
          extra: fc.option(fc.tuple(word, word), { freq: 6 }),
          body: fc.option(bodyText(content?.schema, root), { freq: 10 }),
          type: fc.oneof(
            { weight: 12, arbitrary: fc.constant(type) },
            {
              weight: 1,
              arbitrary: fc.constantFrom(
                'text/plain',
                'application/xml',
                '',
                'application/json; charset=utf-7',
              ),
            },
          ),
          header: fc.option(
            fc.constantFrom(
              ['Origin', 'http://elsewhere.example'],
              ['Sec-Fetch-Site', 'cross-site'],
              ['If-Match', '"x"'],
              ['Content-Encoding', 'gzip'],
              ['Accept', 'image/png'],
              ['Range', 'bytes=0-1'],
              ['X-Forwarded-For', '1.2.3.4'],
              ['Expect', 'something'],
              ['Accept-Encoding', 'gzip, br'],
            ),
            { freq: 5 },
          ),
        })
        .map(({ method, parts, query, extra, body, type, header }) => {
          let next = 0;
          const address = path.replaceAll(/\{\w+\}/g, () => encodeURIComponent(wellFormed(parts[next++])));
          const pairs = [...Object.entries(query), ...(extra === null ? [] : [extra])];
          const search = pairs
            .map((pair) => pair.map((text) => encodeURIComponent(wellFormed(text))).join('='))
            .join('&');
          const headers: Record<string, string> = header === null ? {} : { [header[0]]: header[1] };
          if (body !== null) headers['Content-Type'] = type;
          return {
            path: search === '' ? address : `${address}?${search}`,
            sent: { method: method.toUpperCase(), headers, ...(body === null ? {} : { body }) },
          };
        });
    }),
  );
}

/** encodeURIComponent takes no half of a surrogate pair. */
const wellFormed = (text: string): string => text.replaceAll(/[\uD800-\uDFFF]/gu, '\uFFFD');
