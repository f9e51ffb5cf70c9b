import type { Advice } from '../../engine/advice/advice.ts';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Said } from '../ui/status.ts';

/** Advice with what it is of. */
export interface Advised {
  readonly advice: Advice;
  readonly design: Design;
  /** Of strobe, threshold and all that was asked about. */
  readonly key: string;
}

/** The reader takes a change: from the design asked about to the changed one. */
export type TakeChange = (from: Design, to: Design) => void;

export const volts = (value: number): string => formatQuantity(value, 'V', 3);
export const seconds = (value: number): string => formatQuantity(value, 's', 3);

/** Is what is wanted there, and if not, what is lacking and what would bring it. */
export function verdictOf({ failed, met, has, wanted, changes }: Advice): Said {
  if (failed !== undefined)
    return { sign: 'error', text: `Nothing to advise on: this run could not be computed: ${failed}.` };
  const asked = `${volts(wanted.margin)} of margin and a window of ${seconds(wanted.width)}`;
  const there = `${volts(has.margin)} and ${seconds(has.width)}`;
  if (met) return { sign: 'ok', text: `${asked} are there: the design has ${there}.` };
  const lacking = [
    has.margin < wanted.margin && `margin by ${volts(wanted.margin - has.margin)}`,
    has.width < wanted.width && `width by ${seconds(wanted.width - has.width)}`,
    has.width === 0 && 'the strobe lies in no window',
  ]
    .filter(Boolean)
    .join(', ');
  const reach = changes.filter(({ to }) => to !== undefined).length;
  const ways =
    reach === 0
      ? 'No single change reaches it.'
      : reach === 1
        ? 'One single change reaches it.'
        : `${reach} single changes reach it.`;
  return {
    sign: 'error',
    text: `Not met: wanted are ${asked}; the design has ${there}. Short of it: ${lacking}. ${ways}`,
  };
}
