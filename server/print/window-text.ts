import type { Advice } from '../../engine/advice/advice.ts';
import { formatInstant as second } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import { CAUSE_NAMES, CONTRIBUTIONS } from '../../engine/network/causes.ts';
import { chainRows } from '../../engine/strobe/chain-words.ts';
import { LEDGER_HEADER, ledgerRows } from '../../engine/strobe/ledger-words.ts';
import { setRows, verdictSentence } from '../../engine/strobe/verdict-words.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import {
  cornerSentence,
  fixedMillivolts,
  openingSentence,
  PULSE_HEADER,
  pulseRows,
  tellingCases,
  windowRows,
} from '../../engine/strobe/window-words.ts';
import { adviceText } from './advice-text.ts';
import { textTable } from './table.ts';
import { describeDesign } from './words.ts';

/** A strobe window for a reader: where to sample, how much margin, what it is made of. */
export function windowText(design: Design, found: StrobeWindow, advice?: Advice): string {
  const { strobe } = found;
  const verdict =
    strobe === undefined
      ? (found.reason ?? 'There is no strobe window.')
      : `Strobe window ${second(strobe.start)} to ${second(strobe.end)} (${second(strobe.width)} wide), best ${second(strobe.best)} after the start of read.${found.distance ? '' : ` The strobe in force, ${second(found.inForce.time)}, lies outside it.`}`;
  const notices = found.notices ?? [];
  const ledger = ledgerRows(found.ledger);
  const { told, more } = tellingCases(found);
  const corners = cornerSentence(found);
  const head = [
    `${verdictSentence(design, found)}\n`,
    describeDesign(design),
    setRows(design, found)
      .map(([name, verdict, by]) => `  ${name}: ${verdict}; ${by}.\n`)
      .join(''),
    `${verdict}\n`,
  ];
  const after = [
    ...(notices.length > 0 ? [notices.map(({ message }) => `! ${message}\n`).join('')] : []),
    ...(advice === undefined ? [] : [adviceText(advice)]),
  ];
  // Where no ONE or no ZERO could be computed there is nothing to tell of them.
  if (found.cases.length === 0) return [...head, ...after].join('\n');
  const parts = [
    ...head,
    `At the strobe in force, referred to the sense wire\n${textTable(windowRows(design, found))}`,
    textTable([[...PULSE_HEADER], ...pulseRows(found)]),
    'Causes at the strobe\n' +
      textTable([
        ['', 'worst ONE', 'worst ZERO'],
        ...CONTRIBUTIONS.map((name) => [
          CAUSE_NAMES[name].title,
          fixedMillivolts(found.atStrobe.one[name]),
          fixedMillivolts(found.atStrobe.zero[name]),
        ]),
      ]),
    `Chain of the margin, side ${found.chainSide === 'one' ? 'ONE' : 'ZERO'}\n${textTable(chainRows(found.chain, fixedMillivolts))}`,
    ...(ledger.length > 0 ? [textTable([[...LEDGER_HEADER], ...ledger])] : []),
    tapSentence(found),
    `${openingSentence(found)}\n`,
    ...(corners === '' ? [] : [`${corners}\n`]),
    'Cases nearest to the threshold (* sets the envelope at the strobe)\n' +
      textTable([
        ['', 'at the strobe'],
        ...told.map((item) => [`${item.defines ? '* ' : '  '}${item.name}`, fixedMillivolts(item.atStrobe)]),
      ]) +
      (more > 0 ? `  ${more} more were run: --format json gives all.\n` : ''),
    ...after,
  ];
  return parts.join('\n');
}

/** Which of the ten-nanosecond taps pass, as ranges, and the one to set. */
function tapSentence({ taps, tap }: StrobeWindow): string {
  const ranges: { from: number; to: number }[] = [];
  taps.forEach(({ time, pass }, i) => {
    if (!pass) return;
    if (i > 0 && taps[i - 1].pass) ranges[ranges.length - 1].to = time;
    else ranges.push({ from: time, to: time });
  });
  const passing = ranges.map(({ from, to }) =>
    from === to ? second(from) : `${second(from)} to ${second(to)}`,
  );
  const pass = passing.length === 0 ? 'none pass' : `${passing.join(' and ')} pass`;
  const set = tap === undefined ? 'no three neighbours do, so none is to be set' : `set ${second(tap)}`;
  return `Taps of 10 ns: ${pass}; ${set}.\n`;
}
