import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** The table of what was measured last: written by the tests that measure, never by hand. */
const TABLE = new URL('README.md', import.meta.url);
const HEAD = `# What \`npm run soak\` measured last

Written by the tests themselves: each row anew whenever its test runs; NAME of \`npm run soak -- NAME\` in the last column.

| id | what | figure | target | on | test |
| --- | --- | --- | --- | --- | --- |
`;

export interface Figure {
  readonly id: string;
  readonly what: string;
  readonly figure: string;
  readonly target: string;
  /** Name of the test's file. */
  readonly test: string;
}

/** Held while the table is read and written: two files may measure at the same time. */
const LOCK = join(tmpdir(), 'strobewright-soak-table');
/** ms between two tries, and tries after which whoever holds it is taken to have died. */
const [PAUSE, TRIES] = [10, 500];

function locked(work: () => void): void {
  for (let tries = 0; ; tries++) {
    try {
      mkdirSync(LOCK);
      break;
    } catch {
      if (tries >= TRIES) break;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, PAUSE);
    }
  }
  try {
    work();
  } finally {
    rmSync(LOCK, { recursive: true, force: true });
  }
}

/** Put a figure into its row: that of the same id, test and words, whatever its numbers. */
export function record(figure: Figure, table = TABLE, on = new Date().toISOString().slice(0, 10)): void {
  locked(() => write(figure, table, on));
}

function write(figure: Figure, table: URL, on: string): void {
  const cells = [figure.id, figure.what, figure.figure, figure.target, on, figure.test].map(plain);
  const rows = existsSync(table)
    ? readFileSync(table, 'utf8')
        .split('\n')
        .filter((line) => /^\| [A-Z]\d/u.test(line))
        .map((line) => line.slice(2, -2).split(' | '))
    : [];
  const others = rows.filter((row) => row.length === cells.length && keyOf(row) !== keyOf(cells));
  const sorted = [...others, cells].sort((a, b) => orderOf(a) - orderOf(b) || (keyOf(a) < keyOf(b) ? -1 : 1));
  writeFileSync(table, HEAD + sorted.map((row) => `| ${row.join(' | ')} |\n`).join(''));
}

const plain = (cell: string): string => cell.replaceAll('|', '/').replaceAll('\n', ' ');
const keyOf = ([id, what, , , , test]: readonly string[]): string =>
  [id, test, what.replaceAll(/\d[\d,.]*/gu, '#')].join(' ');

/** N before S, and within each by number. */
const orderOf = ([id]: readonly string[]): number => id.charCodeAt(0) * 1000 + Number(id.slice(1));
