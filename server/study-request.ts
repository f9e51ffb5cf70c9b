import { z } from 'zod';
import type { StudyRequest } from '../engine/index.ts';
import { STUDY_KINDS } from '../engine/index.ts';
import { frameSentence } from './frame-sentence.ts';
import { RequestError } from './request-error.ts';

/** A study as it is asked for over HTTP. The design and the options are checked by the engine. */
export const studyRequestSchema = z.strictObject({
  kind: z.enum(STUDY_KINDS).meta({ description: 'What is varied.' }),
  design: z.record(z.string(), z.unknown()).meta({ description: 'A design file.' }),
  options: z
    .record(z.string(), z.unknown())
    .optional()
    .meta({ description: 'Options of the kind; each has a default.' }),
});

/** The request, or one sentence about what is wrong with its frame. */
export function readStudyRequest(body: unknown): StudyRequest {
  return readFrame(studyRequestSchema, body) as StudyRequest;
}

/** Reads a request's frame with a schema; refuses with the first fault. `subject` names a place by its pointer. */
export function readFrame<Shape>(
  schema: z.ZodType<Shape>,
  body: unknown,
  subject: (pointer: string) => string = (pointer) => (pointer === '' ? 'The body' : pointer),
): Shape {
  const read = schema.safeParse(body);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  const pointer = issue.path.map((key) => `/${escapePointer(String(key))}`).join('');
  const value = issue.path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown>)?.[key], body);
  throw new RequestError(422, {
    code: issue.code.replaceAll('_', '-'),
    field: pointer,
    message: frameSentence(subject(pointer), issue, value),
  });
}

const escapePointer = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1').slice(0, 60);
