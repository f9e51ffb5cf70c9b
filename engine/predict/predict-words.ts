import { formatFigure, formatInstant } from '../base/format-quantity.ts';
import type { HeldTrace, Held, Outside, Prediction } from './prediction.ts';

const volts = (value: number): string => formatFigure(value, 'V', 3);

/** Half an interval that is about even, else its ends. */
const between = ({ low, high }: Held, told: (value: number) => string): string =>
  `${told(low)} to ${told(high)}`;

export const FIGURE_HEADER = ['', 'predicted', '95 % interval'] as const;

/** The figures of a prediction, one row each. */
export function figureRows(found: Prediction): string[][] {
  const row = (what: string, held: Held, told: (value: number) => string): string[] => [
    what,
    told(held.value),
    between(held, told),
  ];
  const where = found.observed === 'sense' ? 'at the sense wire' : 'at the amplifier';
  return [
    row(`peak of a ONE ${where}`, found.peak, volts),
    row('its time from the start of read', found.peakTime, formatInstant),
    row('best strobe', found.strobe, formatInstant),
    row('threshold in the middle', found.threshold, volts),
    row('margin as designed', found.margin, volts),
    row('margin at the corners', found.corners, volts),
    ...found.traces.map((trace) => row(`${traceName(trace)} at the strobe`, atStrobe(found, trace), volts)),
  ];
}

const NAMES: Readonly<Record<HeldTrace['name'], string>> = {
  one: 'ONE',
  zero: 'ZERO',
  leastOne: 'least ONE',
  greatestZero: 'greatest ZERO',
};

/** "greatest ZERO (worst pattern for a ZERO, disturbed)". */
const traceName = ({ name, case: which }: HeldTrace): string => `${NAMES[name]} (${which})`;

/** A trace with its band at the strobe in force. */
function atStrobe({ design, strobe, time }: Prediction, { value, low, high }: HeldTrace): Held {
  const at = design.strobe.time ?? strobe.value;
  const i = Math.min(time.length - 1, Math.max(0, Math.round((at - time[0]!) / (time[1]! - time[0]!))));
  return { value: value[i]!, low: low[i]!, high: high[i]! };
}

const LIES: Readonly<Record<Outside['what'], string>> = {
  drive: 'Full drive',
  'half-select': 'The current of one line',
  field: 'The drive of a core',
  temperature: 'The temperature',
  size: 'The size',
  winding: 'The winding',
  zero: 'The state that is read',
  disturbed: 'The state that is read',
};

/** What lies outside what was measured, and how much that matters: one sentence each. */
export function outsideSentences({ outside, captures }: Prediction): string[] {
  return outside.map(({ what, measured, asked, matters, why }) => {
    const state = what === 'zero' || what === 'disturbed';
    const of = state ? 'what was read is' : captures > 0 ? 'measured' : 'the core was tested at';
    const lies = `${LIES[what]} lies outside what was measured: ${asked}; ${of} ${measured}.`;
    return matters === undefined
      ? `${lies} How much that matters is not told: ${why}.`
      : `${lies} It makes ± ${volts(matters)} of the margin's interval: ${why}.`;
  });
}

/** On what the prediction rests, and how far its lines are straight. */
export function groundSentences({ captures, straight, short, parts }: Prediction): string[] {
  const rests =
    captures === 0
      ? 'Nothing was measured beyond what the ranges of the core say.'
      : `It rests on ${captures === 1 ? 'one capture' : `${captures} captures`}.`;
  const percent = (part: number): string => `${Math.round(100 * part)} %`;
  const lines = straight.holds
    ? `Intervals are carried along straight lines; ${straight.runs} full runs at their ends agree within ${percent(Math.max(straight.margin, straight.peak))} of half of them.`
    : `Straight lines do not hold as far as the intervals reach: full runs at their ends lie off them by ${percent(straight.margin)} of half the margin's interval and ${percent(straight.peak)} of half the peak's. The intervals are widened to hold those runs, and are rough.`;
  const made = parts
    .slice(0, 4)
    .map(({ name, reach }) => `${name} (± ${volts(reach)})`)
    .join(', ');
  return [
    rests,
    lines,
    `The model itself is taken to be off by ${percent(short.share)} of the voltage nearby and ${formatInstant(short.late)} in time (one standard deviation).`,
    // test/soak/prediction.soak.ts with eight builds, at another current and another size.
    'Of eight trial builds with leaning bells, other knees and cores that differ from one another, the interval of a peak held it in 16 of 16 predictions; half of it was a fifth to three eighths of the peak.',
    ...(made === '' ? [] : [`What the margin's interval is made of, each by itself: ${made}.`]),
  ];
}
