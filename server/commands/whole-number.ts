import { RequestError } from '../request-error.ts';

/** A whole number within limits, or one sentence. */
export function wholeNumber(option: string, text: string, low: number, high: number): number {
  const value = /^\d{1,16}$/.test(text) ? Number(text) : Number.NaN;
  if (value >= low && value <= high) return value;
  throw new RequestError(400, {
    code: 'bad-option',
    field: option,
    message: `${option} must be a whole number from ${low} to ${high}; received "${text.slice(0, 40)}": give one.`,
  });
}
