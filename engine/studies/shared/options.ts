import * as z from 'zod';
import { DesignError, jsonPointer } from '../../design/design-error.ts';
import { plainCopy } from '../../design/plain-copy.ts';
import { received } from '../../design/schema/fields.ts';
import { StudyError, type StudyRequest } from './shape.ts';

/**
 * The options of a study, read by the schema of its kind: checked, complete with the defaults that need no design, SI.
 * Throws StudyError with one sentence: what, requirement with unit, value received, remedy.
 */
export function readOptions<Schema extends z.ZodType>(
  { kind, options = {} }: Pick<StudyRequest, 'kind' | 'options'>,
  schema: Schema,
): z.output<Schema> {
  const reading = schema.safeParse(plain(options));
  if (reading.success) return reading.data;
  const issue = reading.error.issues[0]!;
  if (issue.code !== 'unrecognized_keys') return refuseOption(issue.path, issue.message, limitOf(issue));
  const [unknown = ''] = issue.keys;
  throw new StudyError(
    'unknown-option',
    jsonPointer(['options', unknown]),
    `Study ${kind} has no option ${JSON.stringify(unknown.slice(0, 40))}: it takes ${optionNames(schema).join(', ')}.`,
  );
}

/** As plain values; what is too deep or too large for that is refused like any other option. */
function plain(options: unknown): unknown {
  try {
    return plainCopy(options);
  } catch (error) {
    if (!(error instanceof DesignError)) throw error;
    const message = error.message.replace(/^The design/u, 'What is given');
    throw new StudyError('bad-option', `/options${error.field}`, `Study options are refused. ${message}`);
  }
}

/**
 * Refuses an option for what only the design or another option can tell; `because` is the rest of a sentence whose
 * subject is the option: "must be …, but is …; remedy".
 */
export function refuseOption(path: readonly PropertyKey[], because: string, limit?: number): never {
  const name = path.length === 0 ? 'Study options' : `Study option ${path.map(String).join('/')}`;
  throw new StudyError('bad-option', jsonPointer(['options', ...path]), `${name} ${because}.`, limit);
}

/** `must be …, but is …; remedy` with a value that is shown as it was received. */
export const mustBe = (wanted: string, value: unknown, remedy: string): string =>
  `must be ${wanted}, but ${received(value)}; ${remedy}`;

function limitOf(issue: z.core.$ZodIssue): number | undefined {
  if (issue.code === 'too_big') return Number(issue.maximum);
  return issue.code === 'too_small' ? Number(issue.minimum) : undefined;
}

/** JSON Schema (draft 2020-12) of the options of a kind; a default in words stands in x-default. */
export function optionsJsonSchema(schema: z.ZodType): Readonly<Record<string, unknown>> {
  return z.toJSONSchema(schema, { io: 'input' });
}

const optionNames = (schema: z.ZodType): readonly string[] =>
  Object.keys((optionsJsonSchema(schema)['properties'] ?? {}) as object);
