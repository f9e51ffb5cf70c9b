import type { CaptureOptions, CaptureReading } from './capture.ts';
import { decodeText } from './decode-text.ts';
import { readCapture } from './read-capture.ts';

/**
 * Reads every record of a text, such as the segments of one that an instrument triggered many times: a reading each. A
 * text of one record gives one. Throws CaptureError.
 */
export function readRecords(
  input: string | Uint8Array,
  options: CaptureOptions = {},
): readonly CaptureReading[] {
  const first = readCapture(input, options);
  const records = first.ambiguities.find(({ code }) => code === 'record');
  if (records === undefined) return [first];
  const text = typeof input === 'string' ? input : decodeText(input, options.encoding).text;
  const lines = text.split(/\r\n|\n|\r/u);
  const head = lines.slice(0, first.preview.firstLine - 1);
  return records.choices.map(({ lines: span }) =>
    readCapture([...head, ...lines.slice(span![0] - 1, span![1])].join('\n'), {
      ...options,
      firstLine: first.preview.firstLine,
    }),
  );
}
