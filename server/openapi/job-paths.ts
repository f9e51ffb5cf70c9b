import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { jobSchema } from './answers.ts';
import { json, refusal, ok, jobId, heavy, operation } from './parts.ts';

/** The addresses of one kind of job. */
export function jobPaths(path: string, summary: string, body: z.ZodType | object): ZodOpenApiPathsObject {
  const events = { 'text/event-stream': { schema: z.string() } };
  return {
    [path]: {
      post: operation('Jobs', summary, {
        requestBody: { required: true, ...json(body) },
        responses: { '202': ok('Accepted.', jobSchema), '400': refusal('Not JSON.'), ...heavy },
      }),
    },
    [`${path}/{id}`]: {
      get: operation('Jobs', 'State of a job', {
        requestParams: { path: jobId },
        responses: { '200': ok('The job.', jobSchema), '404': refusal('Unknown.') },
      }),
      delete: operation('Jobs', 'Cancel a job, or forget an ended one', {
        requestParams: { path: jobId },
        responses: { '200': ok('The job.', jobSchema), '404': refusal('Unknown.') },
      }),
    },
    [`${path}/{id}/result`]: {
      get: operation('Jobs', 'Result of a job; of a cancelled study what was done, marked partial', {
        requestParams: { path: jobId },
        responses: {
          '200': ok('The result.', z.looseObject({})),
          '404': refusal('Unknown.'),
          '409': refusal('No result yet.'),
        },
      }),
    },
    [`${path}/{id}/events`]: {
      get: operation('Jobs', 'Progress as server-sent events', {
        requestParams: { path: jobId },
        responses: {
          '200': { description: '`progress`, and one last `end`.', content: events },
          '404': refusal('Unknown.'),
        },
      }),
    },
  };
}
