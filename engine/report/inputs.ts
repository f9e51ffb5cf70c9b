import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { listDesignFields } from '../design/list-design-fields.ts';
import { escapeText } from './markup.ts';

/** Every field that differs from its default, then the defaults. */
export function inputs(design: Design): string {
  const raw = designToJson(design, true);
  const fields = listDesignFields()
    .map(({ path, pointer, default: usual }) => ({ path, value: lookUp(raw, pointer), usual }))
    .filter(({ path, value }) => value !== undefined && path !== 'name' && path !== 'note');
  const rows = (list: typeof fields): string =>
    `<dl>${list.map(({ path, value }) => `<div><dt>${escapeText(path)}</dt><dd>${escapeText(words(value))}</dd></div>`).join('')}</dl>`;
  const chosen = fields.filter(({ value, usual }) => words(value) !== words(usual));
  const usual = fields.filter((field) => !chosen.includes(field));
  return `<h3>Chosen</h3>${rows(chosen)}<h3>Left at their defaults</h3>${rows(usual)}`;
}

function lookUp(value: unknown, pointer: string): unknown {
  return pointer
    .split('/')
    .slice(1)
    .reduce<unknown>(
      (held, key) =>
        typeof held === 'object' && held !== null ? (held as Record<string, unknown>)[key] : undefined,
      value,
    );
}

/** A value of a design file for a reader: long lists are cut, they are in the data of the report; long fractions, which only what was worked out has, are rounded to six digits. */
function words(value: unknown): string {
  if (Array.isArray(value) && value.length === 0) return 'none';
  if (Array.isArray(value) && value.every((item) => typeof item === 'string')) return value.join(', ');
  const text =
    typeof value === 'string'
      ? value
      : isProgramme(value)
        ? value.map(cycleWords).join('; then ')
        : (JSON.stringify(value) ?? '');
  return cut(text.replaceAll(/\d+\.\d{9,}/gu, (digits) => String(Number(Number(digits).toPrecision(6)))));
}

const cut = (text: string): string => (text.length > 90 ? `${text.slice(0, 89)}…` : text);

const isProgramme = (value: unknown): value is readonly Cycle[] =>
  Array.isArray(value) && value.every((item) => typeof item === 'object' && item !== null && 'lines' in item);

/** `row 3, column 5: read, restore`; a line alone is said. */
function cycleWords({ row, column, lines, read, write }: Cycle): string {
  const what = [...(read ? ['read'] : []), write === 'none' ? 'no write' : WRITES[write]].join(', ');
  return `row ${row}, column ${column}${lines === 'both' ? '' : `, ${lines.toUpperCase()} alone`}: ${what}`;
}

const WRITES = { restore: 'restore', one: 'write a ONE', zero: 'write a ZERO' } as const;
