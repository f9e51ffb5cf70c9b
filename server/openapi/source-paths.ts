import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { capturesSchema, handbookSchema, jigSchema } from './answers.ts';
import { json, refusal, ok, heavy, operation } from './parts.ts';

/** Cores, demo designs, the schema of a design, and whether the server is there. */
export function sourcePaths(): ZodOpenApiPathsObject {
  return {
    '/api/v1/cores': {
      get: operation('Cores', 'Cores to start from', {
        responses: {
          '200': ok(
            'Presets (SI) and handbook files.',
            z.object({ presets: z.array(z.looseObject({})), handbook: z.array(z.looseObject({})) }),
          ),
        },
      }),
      post: operation(
        'Cores',
        'Model parameters from handbook values, from captures of a core on a jig, or fitted to several captures',
        {
          requestBody: { required: true, ...json(z.union([handbookSchema, jigSchema, capturesSchema])) },
          responses: {
            '200': ok('Parameters and comparison, SI.', z.looseObject({})),
            '400': refusal('Not JSON.'),
            ...heavy,
          },
        },
      ),
    },
    '/api/v1/designs/demo': {
      get: operation('Designs', 'Demo designs, all invented', {
        responses: {
          '200': ok('The list.', z.array(z.object({ id: z.string(), name: z.string(), note: z.string() }))),
        },
      }),
    },
    '/api/v1/designs/demo/{id}': {
      get: operation('Designs', 'One demo design as a design file', {
        requestParams: { path: z.object({ id: z.string() }) },
        responses: { '200': ok('The file.', z.looseObject({})), '404': refusal('Unknown.') },
      }),
    },
    '/api/v1/schema': {
      get: operation('Designs', 'JSON Schema of a design', {
        responses: { '200': ok('The schema.', z.looseObject({})) },
      }),
    },
    '/healthz': {
      get: operation('Server', 'Is the server there?', {
        responses: { '200': ok('It is.', z.object({ status: z.literal('ok'), version: z.string() })) },
      }),
    },
  };
}
