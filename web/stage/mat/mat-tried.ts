import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Design } from '../../../engine/design/design.ts';
import { triedAddresses, type TriedAddress } from '../../model/tried-addresses.ts';
import type { Page } from '../../state/page.ts';

const volts = (value: number): string => formatQuantity(value, 'V', 3);

/** Where reads were tried and how they came out; undefined: not judged yet. */
export function triedOf({ now }: Page) {
  const [run, strobe] = [now.judged.value, now.strobe.value];
  if (!run || !strobe) return undefined;
  const all = triedAddresses(run, strobe);
  return {
    marks: new Map(all.map(({ index, least }) => [index, least >= 0])),
    told: triedText(run.design, all, now.fullyJudged.value, now.judgedIsOld.value),
  };
}

/** How the addresses at which cases were run came out, and that the others were not tried. `full`: corners are counted. */
function triedText({ mat }: Design, tried: readonly TriedAddress[], full: boolean, old: boolean): string {
  const wrong = tried.filter(({ least }) => least < 0);
  const [worst] = tried;
  const where = worst
    ? `row ${Math.floor(worst.index / mat.columns)}, column ${worst.index % mat.columns}`
    : '';
  const found =
    worst === undefined
      ? 'No address was tried.'
      : wrong.length === 0
        ? `All ${tried.length} addresses tried read right (tick); nearest to the threshold is ${where}, ${volts(worst.least)} from its band: ${worst.name}.`
        : `${wrong.length} of ${tried.length} addresses tried may fail (cross); worst is ${where}, ${volts(-worst.least)} on the wrong side: ${worst.name}.`;
  return [
    old ? 'Before this change:' : '',
    found,
    'At the strobe’s own instant, without its jitter. At the others nothing was run.',
    full ? '' : 'Corners are still to come.',
  ]
    .filter((part) => part !== '')
    .join(' ');
}
