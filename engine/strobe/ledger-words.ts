import { formatQuantity } from '../base/format-quantity.ts';
import type { Unit } from '../base/units.ts';
import { listDesignFields } from '../design/list-design-fields.ts';
import type { AssumedField } from '../estimates/assumed-fields.ts';
import type { LedgerEntry } from './ledger-entry.ts';

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
  const counted = ledger
    .filter(({ marginLow, marginHigh }) => Math.abs(marginHigh - marginLow) >= WORTH)
    .slice(0, SHOWN);
  return assumptionRows(counted).map((row, i) => {
    const { marginLow, marginHigh } = counted[i]!;
    return [...row, `${volts(marginLow)} to ${volts(marginHigh)}`];
  });
}

export const ASSUMPTION_HEADER = ['Not given', ...LEDGER_HEADER.slice(1, -1)];

/** What was not given, a row a field: what, value, where it comes from, honest range. */
export function assumptionRows(fields: readonly AssumedField[]): string[][] {
  const units = new Map(listDesignFields().map(({ pointer, unit }) => [pointer, unit]));
  return fields.map(({ field, of, value, from, low, high }) => {
    const unit = units.get(field) ?? '1';
    return [
      [field.slice(1).replaceAll('/', '.'), of].filter((text) => text !== undefined).join(', '),
      quantity(value, unit),
      FROM_WORDS[from],
      `${quantity(low, unit)} to ${quantity(high, unit)}`,
    ];
  });
}

const quantity = (value: number, unit: Unit): string => formatQuantity(value, unit, 2);
const volts = (value: number): string => formatQuantity(value, 'V', 2);
