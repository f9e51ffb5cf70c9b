import { RequestError } from './request-error.ts';

/** JSON text in, value out; else one sentence with line and column. A byte-order mark is skipped. */
export function parseJson(text: string, what: string): unknown {
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  if (body.trim() === '') {
    throw new RequestError(400, {
      code: 'empty',
      message: `${what} must be JSON; it is empty: give a JSON object.`,
    });
  }
  try {
    return JSON.parse(body) as unknown;
  } catch {
    const at = firstFault(body);
    const before = body.slice(0, at).split('\n');
    const found = at < body.length ? JSON.stringify(body.slice(at, at + 12)) : 'the end of the text';
    throw new RequestError(400, {
      code: 'invalid-json',
      message: `${what} must be valid JSON; line ${before.length}, column ${before[before.length - 1].length + 1} has ${found}, which JSON does not allow there: mend it.`,
    });
  }
}

const MARKS = '{}[],:';
const WORD = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
const SPACE = /[ \t\r\n]*/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

/** Index of the first character that JSON does not allow where it stands. Linear in the text, no recursion. */
function firstFault(text: string): number {
  const open: string[] = [];
  let expect: 'value' | 'value-or-end' | 'key' | 'key-or-end' | 'colon' | 'comma' = 'value';
  let at = 0;
  for (;;) {
    const start = endOf(SPACE, text, at);
    const first = text.charAt(start);
    const mark = first !== '' && MARKS.includes(first) ? first : undefined;
    const scan =
      mark === undefined ? (first === '"' ? scanString(text, start) : scanWord(text, start)) : start + 1;
    if (typeof scan !== 'number') return scan.fault;
    const closes = open.at(-1) === (mark === '}' ? '{' : mark === ']' ? '[' : 'nothing');
    if (expect === 'colon') {
      if (mark !== ':') return start;
      expect = 'value';
    } else if (closes && (expect === 'comma' || expect === 'value-or-end' || expect === 'key-or-end')) {
      open.pop();
      expect = 'comma';
    } else if (expect === 'comma') {
      if (mark !== ',' || open.length === 0) return start;
      expect = open.at(-1) === '{' ? 'key' : 'value';
    } else if (expect === 'key' || expect === 'key-or-end') {
      if (first !== '"') return start;
      expect = 'colon';
    } else if (mark === '{' || mark === '[') {
      open.push(mark);
      expect = mark === '{' ? 'key-or-end' : 'value-or-end';
    } else if (mark === undefined) {
      expect = 'comma';
    } else {
      return start;
    }
    at = scan;
  }
}

type Scan = number | { readonly fault: number };

function scanWord(text: string, start: number): Scan {
  const end = endOf(WORD, text, start);
  return end === start ? { fault: start } : end;
}

function scanString(text: string, start: number): Scan {
  for (let at = start + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 0x22) return at + 1;
    if (code < 0x20) return { fault: at };
    if (code !== 0x5c) continue;
    const end = endOf(ESCAPE, text, at);
    if (end === at) return { fault: at };
    at = end - 1;
  }
  return { fault: text.length };
}

/** End of what a sticky pattern matches at a place; the place itself when it does not match. */
function endOf(pattern: RegExp, text: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : at;
}
