import { readJsonText } from '../engine/base/json-text.ts';
import { RequestError } from './request-error.ts';

/** JSON text in, value out; else one sentence with line and column. */
export function parseJson(text: string, what: string): unknown {
  const reading = readJsonText(text, what);
  if (reading.ok) return reading.value;
  throw new RequestError(400, { code: reading.code, message: reading.message });
}
