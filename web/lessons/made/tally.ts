import { readCode, type AnswerShape, type AnswerSheet } from './answer-code.ts';

/** One line that the teacher pasted, and what became of it. */
export interface PastedCode {
  readonly text: string;
  /** `again`: the very same code once more. `replaced`: another code of the same student came later. */
  readonly standing: 'counts' | 'again' | 'replaced' | 'damaged' | 'otherLesson';
  readonly sheet?: AnswerSheet;
}

/**
 * Codes as pasted, one a line (commas and semicolons part them as well). Of two codes of one student the later one
 * counts.
 */
export function readCodes(
  lesson: number,
  shapes: readonly AnswerShape[],
  pasted: string,
): readonly PastedCode[] {
  const lines = pasted
    .split(/[\n,;]+/u)
    .map((text) => text.trim())
    .filter((text) => text !== '');
  const read = lines.map((text): PastedCode => {
    const reading = readCode(lesson, shapes, text);
    return reading.kind === 'read'
      ? { text, standing: 'counts', sheet: reading.sheet }
      : { text, standing: reading.kind };
  });
  const first = read.filter((code, k) => !read.slice(0, k).some((other) => alike(other, code)));
  return read.map((code) => {
    if (!code.sheet) return code;
    if (!first.includes(code)) return { ...code, standing: 'again' };
    const last = first.findLast((other) => other.sheet?.ticket === code.sheet!.ticket);
    return last === code ? code : { ...code, standing: 'replaced' };
  });
}

const alike = (a: PastedCode, b: PastedCode): boolean =>
  a.sheet !== undefined && JSON.stringify(a.sheet) === JSON.stringify(b.sheet);
