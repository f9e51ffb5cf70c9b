import { writeQuantity } from '../../engine/base/format-quantity.ts';
import { parseQuantity } from '../../engine/base/units.ts';
import { rawAt, withValueAt, type RawDesign } from '../model/pointer.ts';

/** A slider over one input of the board. */
export interface SetAsk {
  readonly kind: 'set';
  /** Inputs that it writes, all alike; the board holds them as typed. */
  readonly pointers: readonly string[];
  /** SI, of the first and the last place. */
  readonly from: number;
  readonly to: number;
  readonly places: number;
  readonly unit: 'A' | 'V';
}

/** Bits of the board's cores, to be turned one by one. */
export interface BitsAsk {
  readonly kind: 'bits';
  readonly rows: number;
  readonly columns: number;
  /** The core that is read, whose bit is not asked for. */
  readonly read: Core;
}

/** Anything that the step leaves free on the board. */
export interface BoardAsk {
  readonly kind: 'board';
}

interface Core {
  readonly row: number;
  readonly column: number;
}

/** What a reader has set on the board: the answer to a step that asks for that. */
export type Moved =
  | { readonly kind: 'set'; readonly index: number }
  /** Of the cores on the two lines of the one that is read, in the order of `lineCores`. */
  | { readonly kind: 'bits'; readonly bits: readonly number[] }
  | { readonly kind: 'board'; readonly raw: RawDesign; readonly from: RawDesign };

/** What comes of it, as the engine says. */
export interface Weighed {
  /** V; the more the better. */
  readonly value: number;
  /** V: enough; missing: what the step asks for of everybody. */
  readonly need?: number;
  /** Of a whole board: which side has less, or that it is not of the kind that was asked for. */
  readonly fault?: 'one' | 'zero' | 'fewer';
}

export const isMoved = (given: { readonly kind: string }): given is Moved =>
  given.kind === 'set' || given.kind === 'bits' || given.kind === 'board';

/** SI */
export const setValue = ({ from, to, places }: SetAsk, index: number): number =>
  from + ((to - from) * index) / (places - 1);

export const withSet = (raw: RawDesign, ask: SetAsk, index: number): RawDesign =>
  ask.pointers.reduce(
    (board, pointer) => withValueAt(board, pointer, writeQuantity(setValue(ask, index), ask.unit)),
    raw,
  );

/** The place nearest to what the board holds. */
export function setIndex(raw: RawDesign, ask: SetAsk): number {
  const value = parseQuantity(String(rawAt(raw, ask.pointers[0]!)), ask.unit);
  const index = Math.round(((value - ask.from) / (ask.to - ask.from)) * (ask.places - 1));
  return Math.min(ask.places - 1, Math.max(0, index));
}

/** All others on the lines of the core that is read, row by row: nothing else is half-selected. */
export const lineCores = ({ rows, columns, read }: BitsAsk): readonly Core[] =>
  Array.from({ length: rows * columns }, (_, k) => ({
    row: Math.floor(k / columns),
    column: k % columns,
  })).filter(({ row, column }) => (row === read.row) !== (column === read.column));

export function bitsOf(raw: RawDesign, ask: BitsAsk): readonly number[] {
  const rows = rawAt(raw, '/stored/rows');
  return lineCores(ask).map(({ row, column }) =>
    Array.isArray(rows) && String(rows[row])[column] === '1' ? 1 : 0,
  );
}

export function withBits(raw: RawDesign, ask: BitsAsk, bits: readonly number[]): RawDesign {
  const on = lineCores(ask);
  const bitAt = (row: number, column: number): number => {
    const k = on.findIndex((core) => core.row === row && core.column === column);
    return k < 0 ? 0 : bits[k]!;
  };
  const rows = Array.from({ length: ask.rows }, (_, row) =>
    Array.from({ length: ask.columns }, (_, column) => bitAt(row, column)).join(''),
  );
  return withValueAt(raw, '/stored', { kind: 'custom', rows });
}

/** "1100 0011": row by row, as they are stored. */
export const bitsText = (ask: BitsAsk, bits: readonly number[]): string =>
  (rawAt(withBits({}, ask, bits), '/stored/rows') as readonly string[]).join(' ');
