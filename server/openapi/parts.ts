import { z } from 'zod';
import type { ZodOpenApiOperationObject } from 'zod-openapi';
import { errorSchema } from './answers.ts';

export const json = (schema: z.ZodType | object) => ({
  content: { 'application/json': { schema: schema as z.ZodType } },
});
export const refusal = (description: string) => ({ description, ...json(errorSchema) });
export const ok = (description: string, schema: z.ZodType | object) => ({ description, ...json(schema) });
export const designBody = { required: true, ...json({ $ref: '#/components/schemas/Design' }) };
export const jobId = z.object({ id: z.uuid() });
export const word = (...words: [string, ...string[]]) => z.enum(words).optional();

export const heavy = {
  '413': refusal('The body is too large.'),
  '415': refusal('The body is not application/json.'),
  '422': refusal('The design or its price is refused.'),
  '429': refusal('Too many requests a minute.'),
  '503': refusal('Too many are waiting; Retry-After says when to try again.'),
};

export function operation(
  tag: string,
  summary: string,
  rest: Omit<ZodOpenApiOperationObject, 'tags' | 'summary'>,
): ZodOpenApiOperationObject {
  return { tags: [tag], summary, ...rest };
}
