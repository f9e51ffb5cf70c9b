import type { Design, StrobeWindow } from '../../engine/index.ts';
import { CONTRIBUTIONS, formatQuantity } from '../../engine/index.ts';
import { textTable } from './table.ts';
import { CONTRIBUTION_WORDS, describeDesign } from './words.ts';

const volt = (value: number): string => formatQuantity(value, 'V');
const second = (value: number): string => formatQuantity(value, 's', 4);

/** A strobe window for a reader: where to sample, how much margin, what it is made of. */
export function windowText(design: Design, found: StrobeWindow): string {
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
  const taps = found.taps.map((tap) => `${second(tap.time)} ${tap.pass ? 'passes' : 'fails'}`).join(', ');
  const tap =
    found.tap === undefined ? 'no three neighbouring taps pass' : `set the tap to ${second(found.tap)}`;
  if (found.taps.length > 0) parts.push(`Taps: ${taps}; ${tap}.\n`);
  parts.push(
    'Cases (* sets the envelope at the strobe)\n' +
      textTable([
        ['', 'at the strobe'],
        ...found.cases.map((item) => [`${item.defines ? '* ' : '  '}${item.name}`, volt(item.atStrobe)]),
      ]),
  );
  return parts.join('\n');
}

const chance = (value: number): string =>
  value < 1e-30 ? 'under 1e−30' : value.toPrecision(2).replace('e-', 'e−');
