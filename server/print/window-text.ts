import type { Advice, Design, StrobeWindow } from '../../engine/index.ts';
import { CONTRIBUTIONS, formatQuantity } from '../../engine/index.ts';
import { adviceText } from './advice-text.ts';
import { textTable } from './table.ts';
import { CONTRIBUTION_WORDS, describeDesign } from './words.ts';

const volt = (value: number): string => formatQuantity(value, 'V');
const second = (value: number): string => formatQuantity(value, 's', 4);

/** A strobe window for a reader: where to sample, how much margin, what it is made of. */
export function windowText(design: Design, found: StrobeWindow, advice?: Advice): string {
  const { strobe, threshold, inForce, margin } = found;
  const parts = [describeDesign(design)];
  if (strobe === undefined) {
    parts.push(`${found.reason ?? 'There is no strobe window.'}\n`);
  } else {
    parts.push(
      `Strobe window ${second(strobe.start)} to ${second(strobe.end)} (${second(strobe.width)} wide), best ${second(strobe.best)} after the start of read.\n`,
    );
  }
  if (threshold !== undefined) {
    parts.push(
      `Threshold ${volt(threshold.low)} to ${volt(threshold.high)}, best ${volt(threshold.best)} (referred to the sense wire).\n`,
    );
  }
  parts.push(
    `At the strobe in force, ${second(inForce.time)}, with a threshold of ${volt(inForce.threshold)}\n` +
      textTable([
        ['least ONE above the threshold', volt(margin.one)],
        ['greatest ZERO below the threshold', volt(margin.zero)],
        ['least ONE over greatest ZERO', volt(margin.total)],
        ['ratio', formatQuantity(margin.ratioDb, 'dB')],
        ['chance of a wrong bit', chance(found.errorChance)],
      ]),
  );
  parts.push(
    'Causes at the strobe\n' +
      textTable([
        ['', 'worst ONE', 'worst ZERO'],
        ...CONTRIBUTIONS.map((name) => [
          CONTRIBUTION_WORDS[name],
          volt(found.atStrobe.one[name]),
          volt(found.atStrobe.zero[name]),
        ]),
      ]),
  );
  parts.push(tapSentence(found));
  parts.push(
    'Cases (* sets the envelope at the strobe)\n' +
      textTable([
        ['', 'at the strobe'],
        ...found.cases.map((item) => [`${item.defines ? '* ' : '  '}${item.name}`, volt(item.atStrobe)]),
      ]),
  );
  const notices = found.notices ?? [];
  if (notices.length > 0) parts.push(notices.map(({ message }) => `! ${message}\n`).join(''));
  if (advice !== undefined) parts.push(adviceText(advice));
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

const chance = (value: number): string =>
  value < 1e-30 ? 'under 1e−30' : value.toPrecision(2).replace('e-', 'e−');
