import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { simulationSchema, windowSchema, channelSchema } from './answers.ts';
import { refusal, ok, designBody, word, heavy, operation } from './parts.ts';

/** What is answered at once about one design. */
export function calculationPaths(): ZodOpenApiPathsObject {
  const format = word('json', 'csv');
  const flag = word('true', 'false');
  return {
    '/api/v1/simulations': {
      post: operation('Calculate', 'Traces of a design', {
        requestParams: {
          query: z.object({ format, contributions: flag, estimateError: flag, spectrum: flag }),
        },
        requestBody: designBody,
        responses: { '200': ok('The run.', simulationSchema), '400': refusal('Not JSON.'), ...heavy },
      }),
    },
    '/api/v1/windows': {
      post: operation('Calculate', 'Strobe window of a design', {
        requestParams: { query: z.object({ format, advice: flag }) },
        requestBody: designBody,
        responses: {
          '200': ok('The window, or why there is none.', windowSchema),
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/channels': {
      post: operation('Calculate', 'Disturbed readings, recovery, words, drivers and supply of a design', {
        requestBody: designBody,
        responses: {
          '200': ok('The channel beside one read.', channelSchema),
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/reports': {
      post: operation('Calculate', 'Printable report of a design', {
        requestBody: designBody,
        responses: {
          '200': {
            description: 'One self-contained document.',
            content: { 'text/html': { schema: z.string() } },
          },
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/packs': {
      post: operation(
        'Calculate',
        'What a design is built from: threading, timing, parts, measurements on one core, test plan',
        {
          requestParams: {
            query: z.object({
              format: z.enum(['json', 'html']).optional().meta({
                description: 'json (all, with every file as text) or html (the document to print).',
              }),
            }),
          },
          requestBody: designBody,
          responses: {
            '200': {
              description: 'The build pack.',
              content: {
                'application/json': {
                  schema: z.looseObject({ version: z.string(), files: z.record(z.string(), z.string()) }),
                },
                'text/html': { schema: z.string() },
              },
            },
            '400': refusal('Not JSON, or a bad parameter.'),
            ...heavy,
          },
        },
      ),
    },
  };
}
