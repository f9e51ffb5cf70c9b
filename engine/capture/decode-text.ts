import { CaptureError } from './capture.ts';
import type { Encoding } from './capture.ts';

/** The engine has no platform types; every platform it runs on has this decoder. */
declare const TextDecoder: new (
  label: string,
  options?: { fatal?: boolean; ignoreBOM?: boolean },
) => { decode(bytes: Uint8Array): string };

export interface DecodedText {
  readonly text: string;
  readonly encoding: Encoding;
  readonly notes: readonly string[];
}

/** Bytes to text: by byte-order mark, else by where the zero bytes stand, else UTF-8, else Windows-1252 and said so. */
export function decodeText(bytes: Uint8Array, asked?: Encoding): DecodedText {
  const encoding = asked ?? detect(bytes);
  const notes: string[] = [];
  try {
    return { text: new TextDecoder(encoding, { fatal: true }).decode(bytes), encoding, notes };
  } catch {
    if (asked) {
      throw new CaptureError(
        'option',
        `The file is not ${asked} text; leave the encoding open or name another one.`,
      );
    }
  }
  notes.push('The file is not UTF-8 text; it was read as Windows-1252.');
  return { text: new TextDecoder('windows-1252').decode(bytes), encoding: 'windows-1252', notes };
}

function detect(bytes: Uint8Array): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  // Digits and separators in UTF-16 have one zero byte each.
  const zeros = [0, 0];
  const length = Math.min(bytes.length, 2000);
  for (let i = 0; i < length; i++) if (bytes[i] === 0) zeros[i % 2]++;
  if (zeros[1] > 0.2 * length) return 'utf-16le';
  if (zeros[0] > 0.2 * length) return 'utf-16be';
  return 'utf-8';
}
