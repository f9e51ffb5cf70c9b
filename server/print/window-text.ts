import type { Advice, Design, StrobeWindow } from '../../engine/index.ts';
import {
  CONTRIBUTIONS,
  cornerSentence,
  fixedMillivolts,
  formatQuantity,
  openingSentence,
  PULSE_HEADER,
  pulseRows,
  setRows,
  verdictSentence,
  windowRows,
} from '../../engine/index.ts';
import { adviceText } from './advice-text.ts';
import { textTable } from './table.ts';
import { CONTRIBUTION_WORDS, describeDesign } from './words.ts';

const second = (value: number): string => formatQuantity(value, 's', 4);

/** A strobe window for a reader: where to sample, how much margin, what it is made of. */
export function windowText(design: Design, found: StrobeWindow, advice?: Advice): string {
  const { strobe } = found;
  const verdict =
    strobe === undefined
      ? (found.reason ?? 'There is no strobe window.')
      : `Strobe window ${second(strobe.start)} to ${second(strobe.end)} (${second(strobe.width)} wide), best ${second(strobe.best)} after the start of read.${found.distance ? '' : ` The strobe in force, ${second(found.inForce.time)}, lies outside it.`}`;
  const notices = found.notices ?? [];
  const corners = cornerSentence(found);
  const parts = [
    `${verdictSentence(design, found)}\n`,
    describeDesign(design),
    setRows(design, found)
      .map(([name, verdict, by]) => `  ${name}: ${verdict}; ${by}.\n`)
      .join(''),
    `${verdict}\n`,
    `At the strobe in force, referred to the sense wire\n${textTable(windowRows(design, found))}`,
    textTable([[...PULSE_HEADER], ...pulseRows(found)]),
    'Causes at the strobe\n' +
      textTable([
        ['', 'worst ONE', 'worst ZERO'],
        ...CONTRIBUTIONS.map((name) => [
          CONTRIBUTION_WORDS[name],
          fixedMillivolts(found.atStrobe.one[name]),
          fixedMillivolts(found.atStrobe.zero[name]),
        ]),
      ]),
    tapSentence(found),
    `${openingSentence(found)}\n`,
    ...(corners === '' ? [] : [`${corners}\n`]),
    'Cases (* sets the envelope at the strobe)\n' +
      textTable([
        ['', 'at the strobe'],
        ...found.cases.map((item) => [
          `${item.defines ? '* ' : '  '}${item.name}`,
          fixedMillivolts(item.atStrobe),
        ]),
      ]),
    ...(notices.length > 0 ? [notices.map(({ message }) => `! ${message}\n`).join('')] : []),
    ...(advice === undefined ? [] : [adviceText(advice)]),
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
