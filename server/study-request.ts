import { z } from 'zod';
import { STUDY_KINDS, type StudyRequest } from '../engine/studies/shared/shape.ts';
import { frameSentence } from './frame-sentence.ts';
import { RequestError } from './request-error.ts';

/** The frame of a study as it is asked for over HTTP: the engine checks the design, and the options by the schema of their kind. */
const studyRequestSchema = z.strictObject({
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
  refuseDeep(body, subject);
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

/** Objects and lists within one another; a design takes 12 of them at most. */
const DEEPEST = 20;

/** What is nested without end would exhaust whoever walks through it, or sends it to a worker. */
function refuseDeep(body: unknown, subject: (pointer: string) => string): void {
  const open: { readonly value: unknown; readonly path: readonly string[] }[] = [{ value: body, path: [] }];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { value, path } = next;
    if (typeof value !== 'object' || value === null) continue;
    if (path.length >= DEEPEST) {
      const field = path
        .slice(0, 3)
        .map((key) => `/${escapePointer(key)}`)
        .join('');
      throw new RequestError(422, {
        code: 'too-large',
        field,
        message: `${subject(field)} must be nested at most ${DEEPEST} deep, but goes deeper: leave out what is not needed.`,
        limit: DEEPEST,
      });
    }
    for (const [key, inner] of Object.entries(value)) open.push({ value: inner, path: [...path, key] });
  }
}

const escapePointer = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1').slice(0, 60);
