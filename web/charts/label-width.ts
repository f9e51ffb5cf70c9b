/** px of a bold letter at most, for text of 16 px: wide ones, narrow ones, all others. */
const LETTERS = [
  [/[A-Z0-9mw±%]/u, 9.8],
  [/[-\s.,;:'’·fijltI]/u, 5.4],
] as const;
const OTHER_LETTERS = 8.6;

/** px, by its letters. */
export const textWidth = (text: string, em: number): number =>
  [...text].reduce(
    (sum, letter) => sum + em * (LETTERS.find(([which]) => which.test(letter))?.[1] ?? OTHER_LETTERS),
    0,
  );
