import { BitReader, BitWriter, check, CHECK_BITS, fromLetters, inFives, toLetters } from './bits.ts';

/** What a step's answer takes in a code. */
export type AnswerShape =
  { readonly kind: 'choose' | 'number' | 'index' } | { readonly kind: 'levels'; readonly count: number };

/** An answer as whole numbers, which lose nothing on their way; undefined: not answered. */
export type Coded =
  | { readonly kind: 'choose'; readonly chosen: number }
  /** In the unit that was asked for, of three digits. */
  | { readonly kind: 'number'; readonly value: number }
  /** A place of a slider. */
  | { readonly kind: 'index'; readonly index: number }
  /** Heights of the points of a drawing, 0 at the bottom to `TOP_LEVEL`. */
  | { readonly kind: 'levels'; readonly levels: readonly number[] };

export interface AnswerSheet {
  /** The student's number in the class, which chooses the values; 0 where nothing varies. */
  readonly student: number;
  /** Drawn at random when the lesson is opened: tells a code given in twice from two students who answer alike. */
  readonly ticket: number;
  readonly answers: readonly (Coded | undefined)[];
}

export type CodeReading =
  | { readonly kind: 'read'; readonly sheet: AnswerSheet }
  | { readonly kind: 'damaged' }
  | { readonly kind: 'otherLesson' };

/** Bits of each part. */
const WIDTH = {
  version: 5,
  lesson: 20,
  student: 10,
  ticket: 20,
  choose: 4,
  digits: 10,
  exponent: 5,
  index: 12,
  level: 7,
};
const VERSION = 1;
export const TICKETS = 2 ** WIDTH.ticket;
export const TOP_LEVEL = 2 ** WIDTH.level - 2;
/** Places that a slider may have. */
export const MOST_PLACES = 2 ** WIDTH.index - 1;
/** All ones stand for an answer that was not given. */
const none = (width: number): number => 2 ** width - 1;
/** The power of ten of the last of three digits, at least and at most. */
const EXPONENT = { least: -15, most: 15 };

/** A number of three digits, as codes carry it. */
export function threeDigits(value: number): number {
  const rounded = Number(value.toPrecision(3));
  const limit = 999 * 10 ** EXPONENT.most;
  return Math.abs(rounded) > limit ? Math.sign(rounded) * limit : rounded;
}

/** `lesson`: of which only the lowest twenty bits stand in the code. */
export function writeCode(lesson: number, shapes: readonly AnswerShape[], sheet: AnswerSheet): string {
  const out = new BitWriter();
  out.put(VERSION, WIDTH.version);
  out.put(lesson % 2 ** WIDTH.lesson, WIDTH.lesson);
  out.put(sheet.student, WIDTH.student);
  out.put(sheet.ticket, WIDTH.ticket);
  shapes.forEach((shape, k) => putAnswer(out, shape, sheet.answers[k]));
  while (out.bits.length % 5 !== 0) out.put(0, 1);
  out.put(check(out.bits), CHECK_BITS);
  return inFives(toLetters(out.bits));
}

function putAnswer(out: BitWriter, shape: AnswerShape, answer: Coded | undefined): void {
  if (answer !== undefined && answer.kind !== shape.kind)
    throw new TypeError(`A step that is answered by ${shape.kind} was answered by ${answer.kind}.`);
  switch (shape.kind) {
    case 'choose':
      return out.put(answer?.kind === 'choose' ? answer.chosen : none(WIDTH.choose), WIDTH.choose);
    case 'number':
      return putNumber(out, answer?.kind === 'number' ? answer.value : undefined);
    case 'index':
      return out.put(answer?.kind === 'index' ? answer.index : none(WIDTH.index), WIDTH.index);
    case 'levels': {
      const levels = answer?.kind === 'levels' ? answer.levels : undefined;
      for (let k = 0; k < shape.count; k++) out.put(levels?.[k] ?? none(WIDTH.level), WIDTH.level);
    }
  }
}

function putNumber(out: BitWriter, value: number | undefined): void {
  const [digits, exponent] = value === undefined ? [none(WIDTH.digits), 0] : partsOf(value);
  out.put(value !== undefined && value < 0 ? 1 : 0, 1);
  out.put(digits, WIDTH.digits);
  out.put(exponent - EXPONENT.least, WIDTH.exponent);
}

/** Three digits as a whole number, and the power of ten that it is to be taken by. */
function partsOf(value: number): [digits: number, exponent: number] {
  if (value === 0) return [0, 0];
  const [, lead = '0', rest = '', power = '0'] = /^(\d)\.?(\d*)e([+-]\d+)$/u.exec(
    Math.abs(value).toExponential(2),
  )!;
  const exponent = Number(power) - 2;
  if (exponent < EXPONENT.least) return [0, 0];
  return [Number(lead + rest), exponent];
}

/** One code as pasted. Undamaged ones of another lesson are told as such. */
export function readCode(lesson: number, shapes: readonly AnswerShape[], text: string): CodeReading {
  const bits = fromLetters(text);
  if (bits === undefined || bits.length <= CHECK_BITS) return { kind: 'damaged' };
  const body = bits.slice(0, -CHECK_BITS);
  if (new BitReader(bits.slice(-CHECK_BITS)).take(CHECK_BITS) !== check(body)) return { kind: 'damaged' };
  const from = new BitReader(body);
  if (from.take(WIDTH.version) !== VERSION || from.take(WIDTH.lesson) !== lesson % 2 ** WIDTH.lesson)
    return { kind: 'otherLesson' };
  if (body.length !== Math.ceil(bitsOf(shapes) / 5) * 5) return { kind: 'otherLesson' };
  const [student, ticket] = [from.take(WIDTH.student), from.take(WIDTH.ticket)];
  return {
    kind: 'read',
    sheet: { student, ticket, answers: shapes.map((shape) => takeAnswer(from, shape)) },
  };
}

const bitsOf = (shapes: readonly AnswerShape[]): number =>
  shapes.reduce(
    (sum, shape) => sum + widthOf(shape),
    WIDTH.version + WIDTH.lesson + WIDTH.student + WIDTH.ticket,
  );

function widthOf(shape: AnswerShape): number {
  if (shape.kind === 'levels') return shape.count * WIDTH.level;
  return shape.kind === 'number' ? 1 + WIDTH.digits + WIDTH.exponent : WIDTH[shape.kind];
}

function takeAnswer(from: BitReader, shape: AnswerShape): Coded | undefined {
  switch (shape.kind) {
    case 'choose': {
      const chosen = from.take(WIDTH.choose);
      return chosen === none(WIDTH.choose) ? undefined : { kind: 'choose', chosen };
    }
    case 'number': {
      const negative = from.take(1) === 1;
      const digits = from.take(WIDTH.digits);
      const exponent = from.take(WIDTH.exponent) + EXPONENT.least;
      if (digits === none(WIDTH.digits)) return undefined;
      return { kind: 'number', value: Number(`${negative ? '-' : ''}${digits}e${exponent}`) };
    }
    case 'index': {
      const index = from.take(WIDTH.index);
      return index === none(WIDTH.index) ? undefined : { kind: 'index', index };
    }
    case 'levels': {
      const levels = Array.from({ length: shape.count }, () => from.take(WIDTH.level));
      return levels.some((level) => level > TOP_LEVEL) ? undefined : { kind: 'levels', levels };
    }
  }
}
