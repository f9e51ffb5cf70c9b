import type { z } from 'zod';
import { shorten } from './query.ts';

type Issue = z.core.$ZodIssue;

const KINDS: Readonly<Record<string, string>> = {
  string: 'text in quotes',
  number: 'a plain number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list in square brackets',
  object: 'an object in braces',
  record: 'an object in braces',
};

/** One sentence for the first fault of a request's frame: what, requirement, value received, remedy. */
export function frameSentence(subject: string, issue: Issue, value: unknown): string {
  if (issue.code === 'unrecognized_keys')
    return `${subject} must hold known fields only; received ${shorten(issue.keys[0])}: mend its name or leave it out.`;
  if (value === undefined) return `${subject} must be ${requirement(issue)} and is missing: give it.`;
  return `${subject} must be ${requirement(issue)}; received ${received(value)}: ${remedy(issue)}.`;
}

function requirement(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return KINDS[issue.expected] ?? issue.expected;
    case 'invalid_value':
      return `${issue.values.length > 1 ? 'one of ' : ''}${issue.values.map(String).join(', ')}`;
    case 'too_small':
      return bound(issue.origin, issue.inclusive === false ? 'more than' : 'at least', issue.minimum);
    case 'too_big':
      return bound(issue.origin, issue.inclusive === false ? 'less than' : 'at most', issue.maximum);
    default:
      return 'of the form that /api/docs shows';
  }
}

function bound(origin: string, word: string, limit: number | bigint): string {
  if (origin === 'array') return `a list of ${word} ${limit} entries`;
  return origin === 'string' ? `text of ${word} ${limit} characters` : `${word} ${limit}`;
}

function remedy({ code }: Issue): string {
  if (code === 'invalid_value') return 'give one of these';
  return code === 'too_small' || code === 'too_big' ? 'keep to that' : 'give that';
}

const received = (value: unknown): string =>
  Array.isArray(value) ? `a list of ${value.length}` : shorten(value);
