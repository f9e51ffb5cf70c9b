import type { Proposals } from '../../engine/propose/answer.ts';
import type { Needs } from '../../engine/propose/needs.ts';
import { combinationWords, rangeWords } from '../../engine/propose/build-words.ts';
import {
  coreWords,
  meritWords,
  PROPOSAL_ROWS,
  proposalRow,
  whyWords,
} from '../../engine/propose/proposal-words.ts';
import { proposalsSentence, rejectedWords, relaxedWords } from '../../engine/propose/answer-words.ts';
import { textTable } from './table.ts';

/** The answer to needs for a terminal: the verdict, a column a proposal, what limits each, what was not chosen and why. */
export function proposalsText(needs: Needs, answer: Proposals): string {
  const { proposals, rejected, relax } = answer;
  const named = ({ combination }: Pick<(typeof proposals)[number], 'combination'>): string =>
    combinationWords(combination, needs.cores.length);
  const parts = [`${proposalsSentence(answer)}\n`];
  if (proposals.length > 0) {
    const columns = proposals.map(proposalRow);
    parts.push(
      proposals.map((item, i) => `${i + 1}  ${named(item)}: ${meritWords(item)}\n`).join(''),
      textTable(
        [
          ['', ...proposals.map((_, i) => String(i + 1))],
          ...PROPOSAL_ROWS.map((label, row) => [label, ...columns.map((column) => column[row]!)]),
        ],
        '',
      ),
      `What limits them\n${proposals.map((item, i) => `  ${i + 1}: ${whyWords(item)}.\n`).join('')}`,
    );
    const ranged = proposals.flatMap(({ ranges }, i) =>
      ranges === undefined || ranges.length === 0
        ? []
        : [`  ${i + 1}: ${ranges.map(rangeWords).join('; ')}.\n`],
    );
    if (ranged.length > 0)
      parts.push(
        `How far one value alone may move, strobe and threshold set anew, until 5 % of the reserve are gone\n${ranged.join('')}`,
      );
    const unknown = proposals.flatMap((item, i) => {
      const words = coreWords(item);
      return words === undefined ? [] : [`  ${i + 1}: ${words}\n`];
    });
    if (unknown.length > 0) parts.push(`What is not known\n${unknown.join('')}`);
    const warned = proposals.flatMap(({ proof }, i) =>
      proof.warnings.map((sentence) => `  ${i + 1}: ${sentence}\n`),
    );
    if (warned.length > 0) parts.push(`To be warned of\n${warned.join('')}`);
  }
  if (relax.length > 0)
    parts.push(
      `What one need alone would have to become\n${relax.map((item) => `  ${relaxedWords(item)}\n`).join('')}`,
    );
  if (rejected.length > 0)
    parts.push(
      `Not chosen\n${rejected.map((item) => `  ${named(item)}: ${rejectedWords(item)}\n`).join('')}`,
    );
  return parts.join('\n');
}
