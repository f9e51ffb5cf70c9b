import { RequestError } from '../request-error.ts';

/** A word for one capture, or for all of them. */
interface Placed {
  /** From 0; undefined for all. */
  readonly capture: number | undefined;
  readonly word: string;
}

/**
 * Repeated words of an option that may begin with the number of a capture, such as `2:amplifier`: for each of the
 * captures the words that hold for it, in their order. Throws RequestError for a number that no capture has.
 */
export function perCapture(option: string, words: readonly string[] = [], captures: number): string[][] {
  const placed = words.map((word): Placed => {
    const found = /^(\d{1,4}):(.*)$/su.exec(word);
    if (found === null) return { capture: undefined, word };
    const number = Number(found[1]);
    if (number >= 1 && number <= captures) return { capture: number - 1, word: found[2] };
    throw new RequestError(400, {
      code: 'bad-option',
      field: option,
      message: `${option} must name a capture from 1 to ${captures} before the colon; received ${number}: count them as they are given.`,
    });
  });
  return Array.from({ length: captures }, (_, i) =>
    placed.filter(({ capture }) => capture === undefined || capture === i).map(({ word }) => word),
  );
}

/** The one word that holds for each capture: its own before that of all, the last before those before it. */
export function onePerCapture(
  option: string,
  words: readonly string[] | undefined,
  captures: number,
): (string | undefined)[] {
  const own = perCapture(
    option,
    words?.filter((word) => /^\d{1,4}:/u.test(word)),
    captures,
  );
  const all = words?.filter((word) => !/^\d{1,4}:/u.test(word)).at(-1);
  return own.map((mine) => mine.at(-1) ?? all);
}
