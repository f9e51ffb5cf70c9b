/** Letters and digits that are not taken for one another when written by hand: no I, L, O, U. */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const LETTER_BITS = 5;

/** The letter that was meant: small ones, and what looks alike. */
const MEANT: Readonly<Record<string, string>> = { O: '0', I: '1', L: '1' };

/** Bits one after another, most telling first. */
export class BitWriter {
  readonly bits: number[] = [];
  put(value: number, width: number): void {
    for (let k = width - 1; k >= 0; k--) this.bits.push(Math.floor(value / 2 ** k) % 2);
  }
}

export class BitReader {
  private at = 0;
  private readonly bits: readonly number[];
  constructor(bits: readonly number[]) {
    this.bits = bits;
  }
  take(width: number): number {
    let value = 0;
    for (let k = 0; k < width; k++) value = 2 * value + (this.bits[this.at++] ?? 0);
    return value;
  }
}

/** Filled up with zeros to a whole letter. */
export function toLetters(bits: readonly number[]): string {
  let text = '';
  for (let i = 0; i < bits.length; i += LETTER_BITS) {
    let value = 0;
    for (let k = 0; k < LETTER_BITS; k++) value = 2 * value + (bits[i + k] ?? 0);
    text += ALPHABET[value];
  }
  return text;
}

/** Undefined where something else than a letter of ours stands; blanks and hyphens are passed over. */
export function fromLetters(text: string): number[] | undefined {
  const bits = new BitWriter();
  for (const sign of text.toUpperCase().replaceAll(/[\s-]/gu, '')) {
    const value = ALPHABET.indexOf(MEANT[sign] ?? sign);
    if (value < 0) return undefined;
    bits.put(value, LETTER_BITS);
  }
  return bits.bits;
}

/** In fives, to be read aloud and typed. */
export const inFives = (letters: string): string => letters.match(/.{1,5}/gu)?.join(' ') ?? '';

export const CHECK_BITS = 15;
/** x^15 + x^14 + x^10 + x^8 + x^7 + x^4 + x^3 + 1: finds every change within fifteen bits in a row. */
const POLYNOMIAL = 0x4599;

/** Cyclic check of some bits, so that a letter mistyped or two that changed places are found. */
export function check(bits: readonly number[]): number {
  let state = 0x7fff;
  for (const bit of bits) {
    const out = ((state >> (CHECK_BITS - 1)) & 1) ^ bit;
    state = (state << 1) & 0x7fff;
    if (out === 1) state ^= POLYNOMIAL;
  }
  return state;
}
