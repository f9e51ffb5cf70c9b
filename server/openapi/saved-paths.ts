import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { refusal, ok, heavy, operation } from './parts.ts';

/** The addresses of one kind of saved work. */
export function savedPaths(
  path: string,
  what: string,
  type: string,
  schema: z.ZodType | object,
): ZodOpenApiPathsObject {
  const name = z.object({ name: z.string().min(1).max(100) });
  const file = { [type]: { schema: schema as z.ZodType } };
  const entry = z.object({
    name: z.string(),
    version: z.number(),
    versions: z.array(z.number()),
    saved: z.string(),
    bytes: z.number(),
  });
  return {
    [path]: {
      get: operation('Saved work', `Every ${what} that is kept`, {
        responses: { '200': ok('The list.', z.array(entry)) },
      }),
    },
    [`${path}/{name}`]: {
      get: operation('Saved work', `The newest version of a ${what}`, {
        requestParams: { path: name },
        responses: {
          '200': { description: 'The file; ETag is its version.', content: file },
          '404': refusal('Unknown.'),
        },
      }),
      put: operation('Saved work', `Keep a ${what}: adds a version`, {
        requestParams: { path: name, header: z.object({ 'If-Match': z.string().optional() }) },
        requestBody: { required: true, content: file },
        responses: {
          '200': ok('A version more.', z.object({ name: z.string(), version: z.number() })),
          '201': ok('The first version.', z.object({ name: z.string(), version: z.number() })),
          '400': refusal('Not readable.'),
          '412': refusal('Another version is the newest.'),
          ...heavy,
        },
      }),
      delete: operation('Saved work', `Forget a ${what} with all its versions`, {
        requestParams: { path: name },
        responses: { '204': { description: 'Gone.' }, '404': refusal('Unknown.') },
      }),
    },
    [`${path}/{name}/versions/{version}`]: {
      get: operation('Saved work', `One version of a ${what}`, {
        requestParams: { path: name.extend({ version: z.int().min(1) }) },
        responses: { '200': { description: 'The file.', content: file }, '404': refusal('Unknown.') },
      }),
    },
  };
}
