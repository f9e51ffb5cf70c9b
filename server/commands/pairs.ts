import type { Json } from '../../engine/base/json-patch.ts';
import { RequestError } from '../request-error.ts';

/** Repeated `name=value` words, the value as JSON where it is JSON and as text where it is not. */
export function readPairs(option: string, words: readonly string[] = []): { [name: string]: Json } {
  const pairs = words.map((word) => {
    const at = word.indexOf('=');
    if (at > 0) return [word.slice(0, at), readValue(word.slice(at + 1))] as const;
    throw new RequestError(400, {
      code: 'bad-option',
      field: option,
      message: `${option} must be name=value; received "${word.slice(0, 40)}": write for example ${option} rows=5.`,
    });
  });
  return Object.fromEntries(pairs);
}

function readValue(text: string): Json {
  try {
    return JSON.parse(text) as Json;
  } catch {
    return text;
  }
}
