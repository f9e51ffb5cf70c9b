import type * as z from 'zod';
import { dottedPath, jsonPointer, refused, type DesignProblem } from './design-error.ts';
import { nearestName } from './field-names.ts';

/**
 * A file by its schema: units read, defaults filled. Throws DesignError with every problem found, each one sentence.
 *
 * @param namesAt names of the fields that are known at a path
 * @param kind what the file is called: "design"
 */
export function readFile<T extends z.ZodType>(
  schema: T,
  plain: unknown,
  namesAt: (path: readonly PropertyKey[]) => readonly string[],
  kind: string,
): z.output<T> {
  const reading = schema.safeParse(plain);
  if (reading.success) return reading.data;
  throw refused(reading.error.issues.flatMap((issue) => problemsOf(issue, namesAt, kind)));
}

/** Unknown fields told one by one; a search for the nearest name for each of thousands would take seconds. */
const MOST_STRANGERS = 20;

function problemsOf(
  issue: z.core.$ZodIssue,
  namesAt: (path: readonly PropertyKey[]) => readonly string[],
  kind: string,
): readonly DesignProblem[] {
  const { path } = issue;
  if (issue.code === 'unrecognized_keys')
    return issue.keys.slice(0, MOST_STRANGERS).map((key) => unknownField(path, key, namesAt(path), kind));
  const message = `${path.length === 0 ? `The ${kind}` : dottedPath(path)} ${issue.message}.`;
  const code = issue.code === 'invalid_type' ? 'shape' : 'value';
  const limit = /^must (?:be )?(.*?),? but /su.exec(issue.message)?.[1];
  return [{ code, field: jsonPointer(path), message, limit }];
}

function unknownField(
  path: readonly PropertyKey[],
  key: string,
  names: readonly string[],
  kind: string,
): DesignProblem {
  const near = nearestName(key, names);
  const place = path.length === 0 ? `a ${kind}` : dottedPath(path);
  const shown = JSON.stringify(key.length > 60 ? `${key.slice(0, 57)}...` : key);
  const remedy = near === undefined ? `known are ${names.join(', ')}` : `did you mean "${near}"?`;
  return {
    code: 'unknown-field',
    field: jsonPointer([...path, key]),
    message: `${shown} is not a field of ${place}; ${remedy}${near === undefined ? '.' : ''}`,
    limit: names.join(', '),
  };
}
