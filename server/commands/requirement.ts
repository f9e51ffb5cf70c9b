import type { Requirement, StrobeWindow } from '../../engine/index.ts';
import { formatQuantity, givenAt, readQuantity } from '../../engine/index.ts';
import { RequestError } from '../request-error.ts';

/**
 * What --require asks for: `design` for the design's own requirement, a voltage for the margin, a time for the
 * width of the window; given twice, both.
 */
export function readRequirement(words: readonly string[], own: Requirement): Requirement {
  let wanted: Requirement = { margin: -Infinity, width: -Infinity };
  for (const word of words) {
    const margin = readQuantity(word, 'V');
    const width = readQuantity(word, 's');
    if (word === 'design') wanted = own;
    else if (margin.ok) wanted = { ...wanted, margin: margin.value };
    else if (width.ok) wanted = { ...wanted, width: width.value };
    else throw badRequirement(word);
  }
  return wanted;
}

function badRequirement(word: string): RequestError {
  return new RequestError(400, {
    code: 'bad-option',
    field: '--require',
    message: `--require must be design, a margin such as "20 mV" or a width such as "30 ns"; received "${word.slice(0, 40)}": give one of these.`,
  });
}

/** One sentence for each thing that was required and is not met. */
export function shortfalls(window: StrobeWindow, wanted: Requirement): string[] {
  const short: string[] = [];
  const { margin, width } = givenAt(window);
  if (wanted.margin > margin) {
    short.push(
      `The margin must be at least ${formatQuantity(wanted.margin, 'V')} on either side of the threshold after its uncertainty; it is ${formatQuantity(margin, 'V')}.`,
    );
  }
  if (wanted.width > width) {
    short.push(
      `The strobe window about the strobe must be at least ${formatQuantity(wanted.width, 's')} wide; it is ${formatQuantity(width, 's')}.`,
    );
  }
  return short;
}
