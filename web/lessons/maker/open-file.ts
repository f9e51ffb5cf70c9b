import type { Signal } from '@preact/signals-core';
import { readJsonText } from '../../../engine/base/json-text.ts';
import type { MadeWords } from '../words/made-words.ts';

/** Bytes: a lesson of 24 boards is some hundred kilobytes; what is far longer is something else. */
const MOST_BYTES = 5_000_000;

/** What a file holds as JSON, or in one sentence why it holds nothing. */
export async function readFile(
  w: MadeWords,
  file: File,
): Promise<{ readonly value: unknown } | { readonly refused: string }> {
  if (file.size > MOST_BYTES)
    return { refused: w.file.tooLarge(file.name, MOST_BYTES / 1e6, Math.round(file.size / 1e6)) };
  const reading = readJsonText(await file.text(), file.name);
  return reading.ok ? { value: reading.value } : { refused: `${reading.message} ${w.file.left}` };
}

/** Does it, or tells why it cannot be done; what was there before stays. */
export function attempt(refusal: Signal<string | undefined>, act: () => void): void {
  try {
    act();
    refusal.value = undefined;
  } catch (error) {
    refusal.value = (error as Error).message;
  }
}
