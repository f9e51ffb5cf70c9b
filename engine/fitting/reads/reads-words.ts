import { formatQuantity } from '../../base/format-quantity.ts';
import type { JudgedPair, ReadsAnswer } from './analyse-reads.ts';
import type { ReadValues } from './read-values.ts';

const volts = (v: number): string => formatQuantity(v, 'V', 3);
const seconds = (t: number): string => formatQuantity(t, 's', 3);
const percent = (share: number): string => `${Number((100 * share).toPrecision(3))} %`;
const chance = (p: number): string => (p < 1e-12 ? '0' : Number((100 * p).toPrecision(2)) + ' %');

/** What many reads say, sentence by sentence, beside what the design predicts. */
export function readsStatements({ ones, zeros, best, inForce, predicted, rests }: ReadsAnswer): string[] {
  return [
    `Best strobe ${seconds(best.time)}, threshold ${volts(best.threshold)}, chosen on every other read. ${pairWords(best, 'of the others')} The design's own best pair is ${seconds(predicted.time)} and ${volts(predicted.threshold)}.`,
    `Strobe and threshold in force, ${seconds(inForce.time)} and ${volts(inForce.threshold)}: ${pairWords(inForce, 'of all reads').replace(/^It takes/u, 'they take')}`,
    valueWords('ONE', 'least', ones, predicted.leastOne),
    valueWords('ZERO', 'greatest', zeros, predicted.greatestZero),
    ...restWords(rests),
  ];
}

const pairWords = ({ wrong, count, chance: { low, high } }: JudgedPair, of: string): string =>
  `It takes ${wrong} of ${count} ${of} for the wrong bit: a chance of ${chance(low)} to ${chance(high)} (95 %).`;

function valueWords(bit: string, which: string, v: ReadValues, predicted: number): string {
  const side = which === 'least' ? 'above' : 'below';
  const measured = `At the best strobe the ${which} ${bit} of the ${v.count} others is ${volts(v.extreme)}: with 95 % confidence at least ${percent(v.contentOfExtreme)} of all reads taken as these were lie ${side} that, whatever their distribution.`;
  const normal =
    v.normalLimit === undefined
      ? 'They do not look normal, or are too few to tell, so that no limit is told further out.'
      : `They may be normal (${volts(v.mean)} ± ${volts(v.standardDeviation)}); if so, ${percent(v.content)} lie ${side} ${volts(v.normalLimit)}, with the same confidence.`;
  return `${measured} ${normal} Predicted of the worst case: ${volts(predicted)}.`;
}

function restWords({ spread, byNoise }: ReadsAnswer['rests']): string[] {
  return spread > 3 * byNoise
    ? [
        `Reads rest ${volts(spread)} apart (standard deviation), where noise makes ${volts(byNoise)}: hum of the mains or of a supply. Each read's own rest was taken off.`,
      ]
    : [];
}
