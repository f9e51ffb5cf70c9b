import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { CapturePreview, CaptureReading } from '../../engine/capture/capture.ts';

export const DELIMITER_WORDS: Readonly<Record<CapturePreview['delimiter'], string>> = {
  tab: 'tab',
  semicolon: 'semicolon',
  bar: 'upright bar',
  comma: 'comma',
  space: 'spaces',
  none: 'none, one column',
};

export const ENCODING_WORDS: Readonly<Record<CapturePreview['encoding'], string>> = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16, low byte first',
  'utf-16be': 'UTF-16, high byte first',
  'windows-1252': 'Windows-1252',
};

/** How a text was read, in one or two sentences. */
export function readingInWords({ preview, capture }: CaptureReading): string {
  const { encoding, delimiter, decimal, firstLine, columns } = preview;
  const traces = columns.filter(({ role }) => role === 'trace').length;
  const how =
    `${ENCODING_WORDS[encoding]}, columns set apart by ${delimiter === 'none' ? 'nothing (one column)' : DELIMITER_WORDS[delimiter]}, ` +
    `decimal ${decimal}, first sample in line ${firstLine}, ${traces} trace${traces === 1 ? '' : 's'}`;
  if (!capture) return `Read as ${how}.`;
  const { time, sampleInterval, uniform } = capture;
  const length = time.at(-1)! - time[0]!;
  return (
    `Read as ${how}. ${time.length} samples over ${formatQuantity(length, 's', 4)}, ` +
    `${uniform ? '' : 'unevenly spaced, in the middle '}${formatQuantity(sampleInterval, 's', 4)} apart.`
  );
}
