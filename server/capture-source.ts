import { readFileSync } from 'node:fs';
import { shorten } from './query.ts';
import { RequestError } from './request-error.ts';

/** A capture that the server keeps: where it lies, to be read by whoever does the work. */
export interface KeptCapture {
  /** As the request names it. */
  readonly name: string;
  readonly path: string;
  readonly bytes: number;
}

/** The text of a capture, or where it is kept. */
export type CaptureSource = string | Uint8Array | KeptCapture;

/** Bytes of a capture, known before it is read (of a text its characters, which are as many or fewer). */
export function sourceBytes(source: CaptureSource): number {
  if (typeof source === 'string') return source.length;
  return 'path' in source ? source.bytes : source.byteLength;
}

/** The text. Throws RequestError where a kept capture was removed before its turn came. */
export function readSource(source: CaptureSource): string | Uint8Array {
  if (typeof source === 'string' || !('path' in source)) return source;
  try {
    return readFileSync(source.path);
  } catch {
    throw new RequestError(404, {
      code: 'not-found',
      message: `Kept capture ${shorten(source.name)} was removed, or cannot be read any more: save it again and repeat the request.`,
    });
  }
}
