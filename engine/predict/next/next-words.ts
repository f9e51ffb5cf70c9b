import { formatQuantity } from '../../base/format-quantity.ts';
import { VERSION } from '../../base/version.ts';
import { MEASURING_WORDS } from '../../pack/measuring/measuring-sheet.ts';
import { escapeText, paragraph, section, table } from '../../report/markup.ts';
import { REPORT_STYLE } from '../../report/style.ts';
import { CAUTIONS } from '../../warnings/cautions.ts';
import type { Ranked, WhatNext } from './what-next.ts';

const volts = (value: number): string => formatQuantity(value, 'V', 2);
const amperes = (value: number): string => formatQuantity(value, 'A', 3);

export const NEXT_HEADER = ['measure', 'how', 'channels', 'narrows by', 'to'] as const;

interface Told {
  readonly what: string;
  readonly how: string;
  readonly channels: string;
}

/** What to take, how, and on which channels. */
export function measureWords({ test }: Pick<WhatNext, 'test'>, { take }: Ranked): Told {
  if (take.where === 'lines')
    return {
      what: 'the currents of X and Y',
      how: 'Read any address; both lines in turn, across 1 Ω at the grounded end or with a current probe.',
      channels: '1: current of the line',
    };
  if (take.where === 'jig') {
    const { title, act } = MEASURING_WORDS[take.key]({ ...test, pulse: 1e-6, disturbWidth: 1e-6 });
    return {
      what: `one core on a jig: ${title.replace(/ \(.*\)$/u, '').replace(/^./u, (c) => c.toLowerCase())}`,
      how: act,
      channels: '1: the core’s wire, 2: current',
    };
  }
  const { bit, disturbed, row, column, x, y } = take;
  return {
    what: `${bit === 1 ? 'a ONE' : disturbed ? 'a disturbed ZERO' : 'a ZERO'} at row ${row}, column ${column}, ${amperes(x)} and ${amperes(y)}`,
    how: `Write ${bit === 1 ? 'a ONE' : 'a ZERO'} there${disturbed ? ', half-select it through other addresses of its row and column a thousand times,' : ''} and read with X at ${amperes(x)} and Y at ${amperes(y)}; record from before the read to its end.`,
    channels: '1: sense wire, 2: current of X or Y',
  };
}

/** Of the interval: what a measurement narrows it by less than this is rounding. */
const HARDLY = 0.01;

/** The ranked list, one row each. */
export const nextRows = (found: WhatNext): string[][] =>
  found.ranked.map((ranked) => {
    const { what, how, channels } = measureWords(found, ranked);
    const hardly = ranked.narrows < HARDLY * (found.margin.high - found.margin.low);
    return [
      what,
      how,
      channels,
      hardly ? 'hardly' : volts(ranked.narrows),
      `${volts(ranked.low)} to ${volts(ranked.high)}`,
    ];
  });

/** What the list is, and what it is not. */
export const nextSentences = ({ margin, captures }: WhatNext): readonly string[] => [
  `The margin at the corners is told as ${volts(margin.value)}, between ${volts(margin.low)} and ${volts(margin.high)} in 95 of 100, from ${captures === 0 ? 'the ranges of the core alone' : captures === 1 ? 'one capture' : `${captures} captures`}.`,
  'Each line says how wide that interval is expected to be after that one measurement, as if all depended in straight lines on what is unknown and all errors were normal; where its middle will lie nobody knows before.',
];

/** How to go about it; local rules come first. */
export const PROCEDURE: readonly string[] = [
  'Work at low voltage from a supply with a current limit; switch the supply off, and wait for its capacitors, before anything is rewired, clipped on or taken off.',
  'Ground the probe where the design has its ground, near the core; keep its loop small. Put current and voltage on one picture with one trigger.',
  'Begin with one repetition in a millisecond: lines carry amperes, and drivers and resistors get hot. Feel nothing by hand while the supply is on.',
  'Raise a current in small steps, and no higher than drivers and supply are made for: “strobewright check” says what they must bear.',
  'Keep magnets away from the mat, but where one is asked for; take it far off before the next capture.',
  'Where local rules or a licensed person’s practice say otherwise, they hold.',
];

/** The list as one self-contained document to print. */
export function nextSheet(name: string, found: WhatNext): string {
  const title = `${name === '' ? 'A core memory' : name}: what to measure next`;
  const cautions = CAUTIONS.map(({ text }) => paragraph(text)).join('');
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">',
    `<title>${escapeText(title)}</title><style>${REPORT_STYLE}</style></head><body>`,
    `<h1>${escapeText(title)}</h1><p class="quiet">Strobewright ${VERSION}</p>`,
    ...nextSentences(found).map(paragraph),
    section('Measurements, most telling first', table(NEXT_HEADER, nextRows(found))),
    section(
      'How to go about it',
      `<ol>${PROCEDURE.map((step) => `<li>${escapeText(step)}</li>`).join('')}</ol>`,
    ),
    section('Before you begin', cautions),
    '</body></html>\n',
  ].join('\n');
}
