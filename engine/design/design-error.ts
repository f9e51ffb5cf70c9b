/** One thing wrong with a design. */
export interface DesignProblem {
  /** 'syntax', 'shape', 'value', 'unknown-field', 'rule' or 'too-large'. */
  readonly code: DesignProblemCode;
  /** JSON pointer of the field, '' for the design itself. */
  readonly field: string;
  /** One sentence: what, requirement with unit, value received, remedy. */
  readonly message: string;
  /** The requirement alone, where there is one. */
  readonly limit?: string;
}

export type DesignProblemCode = 'syntax' | 'shape' | 'value' | 'unknown-field' | 'rule' | 'too-large';

/** One broken rule between fields. `path` is dotted as in the sentence; numbers in it are indices. */
export interface BrokenRule {
  readonly path: readonly (string | number)[];
  /** The whole sentence without its full stop. */
  readonly sentence: string;
  readonly limit?: string;
}

/**
 * A design that was refused. `message` is the first problem in one sentence (what, requirement with unit, value
 * received, remedy); `problems` lists all of them, each with its field as a JSON pointer (RFC 6901).
 */
export class DesignError extends Error {
  override readonly name = 'DesignError';
  readonly code: DesignProblemCode;
  readonly field: string;
  readonly limit: string | undefined;
  readonly problems: readonly DesignProblem[];
  constructor(problems: readonly [DesignProblem, ...DesignProblem[]]) {
    super(problems[0].message);
    this.code = problems[0].code;
    this.field = problems[0].field;
    this.limit = problems[0].limit;
    this.problems = problems;
  }
}

export function refused(problems: readonly DesignProblem[]): DesignError {
  const [first, ...rest] = problems;
  return new DesignError([first!, ...rest]);
}

/** ["drive", "x", "rise"] -> "/drive/x/rise" (RFC 6901). */
export function jsonPointer(path: readonly PropertyKey[]): string {
  return path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

/** ["programme", 2, "row"] -> "programme[2].row"; the design itself is "The design". */
export function dottedPath(path: readonly PropertyKey[]): string {
  if (path.length === 0) return 'The design';
  return path
    .map((part, i) => (typeof part === 'number' ? `[${part}]` : `${i === 0 ? '' : '.'}${String(part)}`))
    .join('');
}
