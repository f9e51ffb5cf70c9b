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

const TOKEN =
  /[ \t\r\n]*(?:([{}[\],:])|("(?:[^"\\\u0000-\u001f]|\\["\\/bfnrt]|\\u[0-9a-fA-F]{4})*")|(-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null))/y;
const SPACE = /[ \t\r\n]*/y;

/** Index of the first character that JSON does not allow where it stands. Linear in the text, no recursion. */
function firstFault(text: string): number {
  const open: string[] = [];
  let expect: 'value' | 'value-or-end' | 'key' | 'key-or-end' | 'colon' | 'comma' = 'value';
  let at = 0;
  for (;;) {
    SPACE.lastIndex = at;
    SPACE.exec(text);
    const start = SPACE.lastIndex;
    TOKEN.lastIndex = start;
    const match = TOKEN.exec(text);
    if (match === null) return start;
    const [, mark, string] = match;
    const closes =
      (mark === '}' && open[open.length - 1] === '{') || (mark === ']' && open[open.length - 1] === '[');
    if (expect === 'colon') {
      if (mark !== ':') return start;
      expect = 'value';
    } else if (closes && (expect === 'comma' || expect === 'value-or-end' || expect === 'key-or-end')) {
      open.pop();
      expect = 'comma';
    } else if (expect === 'comma') {
      if (mark !== ',' || open.length === 0) return start;
      expect = open[open.length - 1] === '{' ? 'key' : 'value';
    } else if (expect === 'key' || expect === 'key-or-end') {
      if (string === undefined) return start;
      expect = 'colon';
    } else if (mark === '{' || mark === '[') {
      open.push(mark);
      expect = mark === '{' ? 'key-or-end' : 'value-or-end';
    } else if (mark === undefined) {
      expect = 'comma';
    } else {
      return start;
    }
    at = TOKEN.lastIndex;
  }
}
