import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseJson } from '../../server/parse-json.ts';

const messageOf = (text: string): string => {
  try {
    parseJson(text, 'Design x.json');
  } catch (error) {
    return (error as Error).message;
  }
  return 'no fault';
};

describe('JSON text', () => {
  it.each([
    ['{"a":}', 'line 1, column 6 has "}"'],
    ['{"a":1,}', 'line 1, column 8 has "}"'],
    ['{\n  "a": 1\n  "b": 2\n}', 'line 3, column 3 has "\\"b\\": 2\\n}"'],
    ['{"a": 01}', 'line 1, column 8 has "1}"'],
    ["{'a': 1}", 'line 1, column 2 has "\'a\': 1}"'],
    ['[1, 2', 'line 1, column 6 has the end of the text'],
    ['{"a": "b', 'line 1, column 9 has the end of the text'],
    ['{"a": "b\n"}', 'line 1, column 9 has "\\n\\"}"'],
    ['{"a": "\\x"}', 'line 1, column 8 has "\\\\x\\"}"'],
    ['{"a" 1}', 'line 1, column 6 has "1}"'],
    ['{} {}', 'line 1, column 4 has "{}"'],
    ['[1}', 'line 1, column 3 has "}"'],
    ['nul', 'line 1, column 1 has "nul"'],
    [']', 'line 1, column 1 has "]"'],
  ])('%j is refused where it goes wrong', (text, place) => {
    expect(messageOf(text)).toBe(
      `Design x.json must be valid JSON; ${place}, which JSON does not allow there: look there for a missing or superfluous comma, quote or brace.`,
    );
  });

  it('that is empty is refused', () => {
    expect(messageOf(' \n')).toBe('Design x.json must be JSON; it is empty: give a JSON object.');
  });

  it.each([
    ['{"a":1,"a":1}', 'line 1, column 8 gives "a" again'],
    ['{"a":{"b":1,\n"c":[{"b":1,"b":2}]}}', 'line 2, column 13 gives "b" again'],
    ['{"a":1,"\\u0061":2}', 'line 1, column 8 gives "a" again'],
    ['{"__proto__":1,"__proto__":2}', 'line 1, column 16 gives "__proto__" again'],
  ])('%j names a thing twice, of which one would be lost in silence', (text, place) => {
    expect(messageOf(text)).toBe(
      `Design x.json must give each name once in an object; ${place}: keep one of the two.`,
    );
  });

  it('may give the same name in different objects', () => {
    expect(messageOf('{"a":{"a":1},"b":[{"a":1},{"a":1}]}')).toBe('no fault');
  });

  it('may begin with a byte-order mark', () => {
    expect(parseJson('\uFEFF{"a":1}', 'x')).toEqual({ a: 1 });
  });

  it('with one character changed is either read or refused at or before the end of the text', () => {
    fc.assert(
      fc.property(
        fc.json(),
        fc.nat(),
        fc.string({ minLength: 1, maxLength: 1 }),
        (json, place, character) => {
          const at = place % json.length;
          const text = json.slice(0, at) + character + json.slice(at + 1);
          let read = true;
          try {
            JSON.parse(text);
          } catch {
            read = false;
          }
          const message = messageOf(text);
          const repeated = message.includes('must give each name once');
          expect(message === 'no fault' || repeated).toBe(read);
          if (!read && text.trim() !== '') {
            const column = Number(/column (\d+)/.exec(message)?.[1]);
            expect(column).toBeGreaterThanOrEqual(1);
            expect(column).toBeLessThanOrEqual(text.length + 1);
          }
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('nested a hundred thousand deep, or one long string without an end, is refused without harm', () => {
    expect(messageOf('['.repeat(100_000))).toContain('column 100001 has the end of the text');
    expect(messageOf(`"${'a'.repeat(1_000_000)}`)).toContain('column 1000002 has the end of the text');
  });
});
