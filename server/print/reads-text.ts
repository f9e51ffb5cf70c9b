import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { toJsonDocument } from '../../engine/export/serialise.ts';
import type { ReadsAnswer } from '../../engine/fitting/reads/analyse-reads.ts';
import type { ReadValues } from '../../engine/fitting/reads/read-values.ts';
import { readsStatements } from '../../engine/fitting/reads/reads-words.ts';
import { csvLine } from './csv-line.ts';

/** Characters of the longest bar of a histogram. */
const BAR = 40;

/** Many reads for a reader: what they say, and a histogram of each bit at the best strobe. */
export const readsText = (answer: ReadsAnswer): string =>
  [
    readsStatements(answer)
      .map((sentence) => `${sentence}\n`)
      .join(''),
    `ONEs at the best strobe:\n${histogramText(answer.ones)}`,
    `ZEROs at the best strobe:\n${histogramText(answer.zeros)}`,
  ].join('\n');

function histogramText({ histogram: { edges, counts } }: ReadValues): string {
  const most = Math.max(...counts);
  return counts
    .map((count, i) => {
      const middle = formatQuantity((edges[i] + edges[i + 1]) / 2, 'V', 3);
      return `${middle.padStart(10)}  ${'#'.repeat(Math.ceil((BAR * count) / most)).padEnd(BAR)}  ${count}\n`;
    })
    .join('');
}

/** All but the reads themselves. */
export const readsJson = ({ reads, ...rest }: ReadsAnswer): string =>
  toJsonDocument({ ...rest, statements: readsStatements({ reads, ...rest }) });

/** The bands as CSV, SI. */
export const readsCsv = ({ time, one, zero }: ReadsAnswer): string =>
  [
    ['time', 'leastOne', 'meanOne', 'greatestOne', 'leastZero', 'meanZero', 'greatestZero'],
    ...Array.from(time, (t, i) =>
      [t, one.least[i], one.mean[i], one.greatest[i], zero.least[i], zero.mean[i], zero.greatest[i]].map(
        String,
      ),
    ),
  ]
    .map(csvLine)
    .join('');
