import { formatQuantity } from '../base/format-quantity.ts';
import type { Unit } from '../base/units.ts';
import { listDesignFields } from '../design/list-design-fields.ts';
import type { LedgerEntry } from './ledger.ts';

const FROM_WORDS: Readonly<Record<LedgerEntry['from'], string>> = {
  given: 'given',
  measured: 'measured',
  geometry: 'from geometry',
  handbook: 'handbook',
  preset: 'preset, from memory',
  default: 'assumed',
};

export const LEDGER_HEADER = [
  'Not given, but it decides',
  'value',
  'from',
  'could be',
  'margin then',
] as const;

/** Entries that move the margin by less than this, V, are left out of tables. */
const WORTH = 50e-6;
const SHOWN = 12;

/** The ledger, a row an entry: what, value, where it comes from, honest range, margin at both ends of it. */
export function ledgerRows(ledger: readonly LedgerEntry[]): string[][] {
  const units = new Map(listDesignFields().map(({ pointer, unit }) => [pointer, unit]));
  return ledger
    .filter(({ marginLow, marginHigh }) => Math.abs(marginHigh - marginLow) >= WORTH)
    .slice(0, SHOWN)
    .map(({ field, value, from, low, high, marginLow, marginHigh }) => {
      const unit = units.get(field) ?? '1';
      return [
        field.slice(1).replaceAll('/', '.'),
        quantity(value, unit),
        FROM_WORDS[from],
        `${quantity(low, unit)} to ${quantity(high, unit)}`,
        `${volts(marginLow)} to ${volts(marginHigh)}`,
      ];
    });
}

const quantity = (value: number, unit: Unit): string => formatQuantity(value, unit, 2);
const volts = (value: number): string => formatQuantity(value, 'V', 2);
