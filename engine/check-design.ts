import type * as z from 'zod';
import { assembleDesign } from './assemble-design.ts';
import { HandbookError } from './core-handbook-values.ts';
import { DesignError, dottedPath, jsonPointer, type DesignProblem } from './design-error.ts';
import { designRules } from './design-rules.ts';
import { designSchema, type ReadDesignFile } from './design-schema.ts';
import type { Design } from './design.ts';
import { knownNames, nearestName } from './field-names.ts';
import { plainCopy } from './plain-copy.ts';

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
  return checkDesign(parseJson(text));
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

/** JSON.parse with place and cause of a slip. */
export function parseJson(text: string): unknown {
  const clean = text.replace(/^\uFEFF/u, '');
  try {
    return JSON.parse(clean);
  } catch (error) {
    const { line, column, found } = locate(clean, error);
    throw new DesignError([
      {
        code: 'syntax',
        field: '',
        message: `The design must be JSON, but at line ${line}, column ${column} there is ${found}; look there for a missing comma, quote or brace.`,
      },
    ]);
  }
}

/** Where JSON.parse stopped. Engines tell the position in different words, or not at all when the text just ends. */
function locate(
  text: string,
  error: unknown,
): { readonly line: number; readonly column: number; readonly found: string } {
  const words = error instanceof Error ? error.message : '';
  const position = /position (\d+)/u.exec(words)?.[1];
  const lineColumn = /line (\d+) column (\d+)/u.exec(words);
  const lines = text.split('\n');
  let at = position === undefined ? text.length : Number(position);
  if (position === undefined && lineColumn) {
    const before = lines.slice(0, Number(lineColumn[1]) - 1).reduce((sum, line) => sum + line.length + 1, 0);
    at = before + Number(lineColumn[2]) - 1;
  } else if (position === undefined) {
    at = findQuoted(text, words);
  }
  const head = text.slice(0, at).split('\n');
  const found = at >= text.length ? 'the end of the text' : `${JSON.stringify(text.charAt(at))}`;
  return { line: head.length, column: (head.at(-1) ?? '').length + 1, found };
}

/** V8 quotes the surroundings instead of the position in short texts: Unexpected token 'x', "..." is not valid JSON. */
function findQuoted(text: string, words: string): number {
  const token = /Unexpected token '(.)'/su.exec(words)?.[1];
  const quoted = /, (?:\.\.\.)?"(.*?)"(?:\.\.\. | )is not valid JSON$/su.exec(words)?.[1];
  if (token === undefined || quoted === undefined) return text.length;
  const start = Math.max(0, text.indexOf(quoted));
  const inside =
    quoted.length > 10 && start > 0
      ? text.indexOf(token, start + Math.min(10, quoted.length - 1))
      : text.indexOf(token, start);
  return inside < 0 ? text.length : inside;
}

function deepFreeze<T>(value: T): T {
  if (value !== null && typeof value === 'object' && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const item of Object.values(value)) deepFreeze(item);
  }
  return value;
}
