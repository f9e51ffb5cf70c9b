/** JSON text read once for every door: the value, or one sentence with line and column. */
export type JsonReading =
  | { readonly ok: true; readonly value: unknown }
  | {
      readonly ok: false;
      readonly code: 'empty' | 'invalid-json' | 'repeated-name';
      readonly message: string;
    };

/**
 * JSON text in, value out. `what` is the subject of the sentence ("The design", "Handbook core.json"). A byte-order
 * mark is skipped. A name given twice in one object is refused: JSON.parse would keep the last in silence.
 */
export function readJsonText(text: string, what: string): JsonReading {
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  if (body.trim() === '')
    return {
      ok: false,
      code: 'empty',
      message: `${what} must be JSON; it is empty: give a JSON object.`,
    };
  const fault = firstFault(body);
  if (fault === undefined) return { ok: true, value: JSON.parse(body) as unknown };
  const { at, name } = fault;
  const before = body.slice(0, at).split('\n');
  const place = `line ${before.length}, column ${before[before.length - 1].length + 1}`;
  if (name !== undefined)
    return {
      ok: false,
      code: 'repeated-name',
      message: `${what} must give each name once in an object; ${place} gives ${shown(name)} again: keep one of the two.`,
    };
  const found = at < body.length ? JSON.stringify(body.slice(at, at + 12)) : 'the end of the text';
  return {
    ok: false,
    code: 'invalid-json',
    message: `${what} must be valid JSON; ${place} has ${found}, which JSON does not allow there: look there for a missing or superfluous comma, quote or brace.`,
  };
}

const shown = (name: string): string => JSON.stringify(name.length > 40 ? `${name.slice(0, 37)}...` : name);

interface Fault {
  /** Index of the first character that JSON does not allow where it stands, or of a name that was there before. */
  readonly at: number;
  readonly name?: string;
}

const MARKS = '{}[],:';
const WORD = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
const SPACE = /[ \t\r\n]*/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

/** The first thing wrong; undefined for JSON without repeated names. Linear in the text, no recursion. */
function firstFault(text: string): Fault | undefined {
  /** Names so far of each open object; undefined for a list. */
  const open: (Set<string> | undefined)[] = [];
  let expect: 'value' | 'value-or-end' | 'key' | 'key-or-end' | 'colon' | 'comma' = 'value';
  let at = 0;
  for (;;) {
    const start = endOf(SPACE, text, at);
    const first = text.charAt(start);
    if (first === '' && expect === 'comma' && open.length === 0) return undefined;
    const mark = first !== '' && MARKS.includes(first) ? first : undefined;
    const scan =
      mark === undefined ? (first === '"' ? scanString(text, start) : scanWord(text, start)) : start + 1;
    if (typeof scan !== 'number') return scan;
    const inside = open.at(-1);
    const closes = open.length > 0 && mark === (inside === undefined ? ']' : '}');
    if (expect === 'colon') {
      if (mark !== ':') return { at: start };
      expect = 'value';
    } else if (closes && (expect === 'comma' || expect === 'value-or-end' || expect === 'key-or-end')) {
      open.pop();
      expect = 'comma';
    } else if (expect === 'comma') {
      if (mark !== ',' || open.length === 0) return { at: start };
      expect = inside === undefined ? 'value' : 'key';
    } else if (expect === 'key' || expect === 'key-or-end') {
      if (first !== '"') return { at: start };
      const name = JSON.parse(text.slice(start, scan)) as string;
      if (inside?.has(name)) return { at: start, name };
      inside?.add(name);
      expect = 'colon';
    } else if (mark === '{' || mark === '[') {
      open.push(mark === '{' ? new Set() : undefined);
      expect = mark === '{' ? 'key-or-end' : 'value-or-end';
    } else if (mark === undefined) {
      expect = 'comma';
    } else {
      return { at: start };
    }
    at = scan;
  }
}

function scanWord(text: string, start: number): number | Fault {
  const end = endOf(WORD, text, start);
  return end === start ? { at: start } : end;
}

function scanString(text: string, start: number): number | Fault {
  for (let at = start + 1; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 0x22) return at + 1;
    if (code < 0x20) return { at };
    if (code !== 0x5c) continue;
    const end = endOf(ESCAPE, text, at);
    if (end === at) return { at };
    at = end - 1;
  }
  return { at: text.length };
}

/** End of what a sticky pattern matches at a place; the place itself when it does not match. */
function endOf(pattern: RegExp, text: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : at;
}
