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

/** How files begin that are packed, and so no text: zip (workbooks too) and gzip. */
const MAGIC = [
  [0x50, 0x4b, 3, 4],
  [0x1f, 0x8b],
];

/** Bytes to text: by byte-order mark, else by where the zero bytes stand, else UTF-8, else Windows-1252 and said so. */
export function decodeText(bytes: Uint8Array, asked?: Encoding): DecodedText {
  if (asked === undefined && MAGIC.some((magic) => magic.every((byte, i) => bytes[i] === byte)))
    throw notText();
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

/** Bytes looked at from the beginning, and from the end. */
const LOOKED_AT = 2000;
const LAST = 400;

const notText = (): CaptureError =>
  new CaptureError(
    'no-samples',
    'The file must be text, and holds bytes that no text does, as a workbook, a packed file or a picture does: export it as CSV from the instrument or the workbook.',
  );

function detect(bytes: Uint8Array): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  // Digits and separators in UTF-16 have one zero byte each. The lines above the samples may be in any script, so
  // that the end of the file, where samples stand, is looked at as well.
  for (const [from, length] of [
    [0, LOOKED_AT],
    [Math.max(0, bytes.length - LAST), LAST],
  ]) {
    const zeros = [0, 0];
    const part = bytes.subarray(from - (from % 2), from + length);
    part.forEach((byte, i) => byte === 0 && zeros[i % 2]++);
    if (zeros[1] > 0.2 * part.length && zeros[0] < 0.05 * part.length) return 'utf-16le';
    if (zeros[0] > 0.2 * part.length && zeros[1] < 0.05 * part.length) return 'utf-16be';
  }
  if (bytes.subarray(0, LOOKED_AT).includes(0)) throw notText();
  return 'utf-8';
}
