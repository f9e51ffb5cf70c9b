import type * as z from 'zod';
import { assembleDesign } from './assemble-design.ts';
import { HandbookError } from '../core/handbook/values.ts';
import { DesignError, dottedPath, jsonPointer, type DesignProblem } from '../design/design-error.ts';
import { designRules } from './rules.ts';
import { designSchema, type ReadDesignFile } from '../design/schema/design-schema.ts';
import type { Design } from '../design/design.ts';
import { knownNames, nearestName } from '../design/field-names.ts';
import { readJsonText } from '../base/json-text.ts';
import { plainCopy } from '../design/plain-copy.ts';

/**
 * Unknown in, a complete frozen Design out: SI, every default filled, every rule between fields kept. The input
 * is not changed. Throws DesignError, and nothing else, with all problems found and the first as its message.
 */
export function checkDesign(raw: unknown): Design {
  const plain = plainCopy(raw);
  const reading = designSchema.safeParse(plain);
  if (!reading.success) throw refused(reading.error.issues.flatMap(problemsOf));
  const design = assemble(reading.data);
  const broken = designRules(design, reading.data);
  if (broken.length > 0) throw refused(broken);
  return deepFreeze(design);
}

function assemble(file: ReadDesignFile): Design {
  try {
    return assembleDesign(file);
  } catch (error) {
    if (!(error instanceof HandbookError)) throw error;
    const message = `core.handbook.${error.message}`;
    throw new DesignError([
      { code: 'rule', field: jsonPointer(['core', 'handbook', error.field.replace(/^\//u, '')]), message },
    ]);
  }
}

/** A design from the text of a design file. A slip of JSON is told with its line and column. Throws DesignError. */
export function parseDesignText(text: string): Design {
  const reading = readJsonText(text, 'The design');
  if (reading.ok) return checkDesign(reading.value);
  throw refused([{ code: 'syntax', field: '', message: reading.message }]);
}

function refused(problems: readonly DesignProblem[]): DesignError {
  const [first, ...rest] = problems;
  return new DesignError([first, ...rest]);
}

/** Unknown fields told one by one; a search for the nearest name for each of thousands would take seconds. */
const MOST_STRANGERS = 20;

function problemsOf(issue: z.core.$ZodIssue): readonly DesignProblem[] {
  const { path } = issue;
  if (issue.code === 'unrecognized_keys')
    return issue.keys.slice(0, MOST_STRANGERS).map((key) => unknownField(path, key));
  const message = `${dottedPath(path)} ${issue.message}.`;
  const code = issue.code === 'invalid_type' ? 'shape' : 'value';
  const limit = /^must (?:be )?(.*?),? but /su.exec(issue.message)?.[1];
  return [{ code, field: jsonPointer(path), message, limit }];
}

function unknownField(path: readonly PropertyKey[], key: string): DesignProblem {
  const names = knownNames(path);
  const near = nearestName(key, names);
  const place = path.length === 0 ? 'a design' : dottedPath(path);
  const shown = JSON.stringify(key.length > 60 ? `${key.slice(0, 57)}...` : key);
  const remedy = near === undefined ? `known are ${names.join(', ')}` : `did you mean "${near}"?`;
  return {
    code: 'unknown-field',
    field: jsonPointer([...path, key]),
    message: `${shown} is not a field of ${place}; ${remedy}${near === undefined ? '.' : ''}`,
    limit: names.join(', '),
  };
}

function deepFreeze<T>(value: T): T {
  if (value !== null && typeof value === 'object' && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const item of Object.values(value)) deepFreeze(item);
  }
  return value;
}
