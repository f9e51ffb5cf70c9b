import { measureWords, nextRows, nextSentences, PROCEDURE } from '../../engine/predict/next/next-words.ts';
import type { WhatNext } from '../../engine/predict/next/what-next.ts';
import { CAUTIONS } from '../../engine/warnings/cautions.ts';
import { textTable } from './table.ts';

/** What to measure next, for a reader: the list, how to take the first, and how to go about it. */
export function nextText(found: WhatNext): string {
  const [first] = found.ranked;
  return [
    nextSentences(found)
      .map((each) => `${each}\n`)
      .join(''),
    textTable(
      [['measure', 'narrows by', 'to'], ...nextRows(found).map(([what, , , by, to]) => [what!, by!, to!])],
      '',
    ),
    ...(first === undefined
      ? []
      : [`First: ${measureWords(found, first).how} Channels ${measureWords(found, first).channels}.\n`]),
    [...PROCEDURE, ...CAUTIONS.map(({ text }) => text)].map((step) => `- ${step}\n`).join(''),
  ].join('\n');
}
