import type { Design } from '../design/design.ts';
import { formatInstant as seconds, formatQuantity } from '../base/format-quantity.ts';
import { CORNER_SIGMAS, strobeUncertainties } from './envelope.ts';
import type { DetectorPulses, StrobeWindow, WindowCase } from './window-result.ts';
import type { BestPair } from './window-result.ts';

/** A strobe window in words: the same rows and sentences on the command line and in the report. */
const volts = (value: number): string => formatQuantity(value, 'V');

/** One unit and two places, so that a column can be compared: -0.0004 V is −0.40 mV. */
export const fixedMillivolts = (value: number): string =>
  `${(Math.round(value * 1e5) / 100 || 0).toFixed(2).replace('-', '−')} mV`;

/** A chance as far down as the model deserves: 0.013, 2.1e−7, under 1e−12 (nothing, too). */
export const chanceText = (p: number): string =>
  Number.isNaN(p)
    ? 'not a number'
    : p < 1e-12
      ? 'under 1e−12'
      : `${Number(p.toPrecision(2))}`.replace('e-', 'e−');

type Row = readonly [string, string];

/** What holds at the strobe and threshold in force, a row each. */
export function windowRows(design: Design, window: StrobeWindow): Row[] {
  const { strobe, threshold, margin, inForce, tap, bestPair, errorChanceRange, distance } = window;
  const found = distance ? 'best for this threshold' : 'least bad within the read pulse: none passes';
  const set = design.strobe.time === undefined ? found : 'as set';
  const { threshold: unsure, guard } = strobeUncertainties(design);
  const others = window.intervals.filter((i) => i.start !== strobe?.start);
  const rows: (Row | undefined)[] = [
    [`Strobe (${set})`, seconds(inForce.time)],
    ['Threshold', volts(inForce.threshold)],
    strobe && ['Window at this threshold', span(strobe)],
    others.length > 0 ? ['It passes in other intervals too', others.map(span).join(', ')] : undefined,
    distance && [
      'From the strobe to its edges',
      `${seconds(distance.toStart)} before, ${seconds(distance.toEnd)} after`,
    ],
    threshold && [
      'Thresholds that pass at this strobe',
      `${volts(threshold.low)} to ${volts(threshold.high)}`,
    ],
    ['Least ONE', volts(inForce.threshold + margin.one)],
    ['Greatest ZERO', volts(inForce.threshold - margin.zero)],
    ['Least ONE over the threshold', volts(margin.one)],
    ['Greatest ZERO under the threshold', volts(margin.zero)],
    [
      'Margin: the lesser, after the uncertainty',
      `${volts(margin.left)}, where ${volts(design.requirement.margin)} is asked for`,
    ],
    ['Separation of least ONE and greatest ZERO', volts(margin.total)],
    ['Ratio of ONE to ZERO', formatQuantity(margin.ratioDb, 'dB')],
    bestPair && ['Best pair', pairText(bestPair)],
    bestPair && ['Its distance from the edge', `${bestPair.distance.toFixed(1)} × stated uncertainty`],
    ['Stated uncertainty, threshold and strobe', `±${volts(unsure)}, ±${seconds(guard)}`],
    [
      'Tap of a 10 ns delay line',
      tap === undefined ? 'none: fewer than three neighbours pass' : seconds(tap),
    ],
    ['Chance of a wrong bit', chanceText(window.errorChance)],
    errorChanceRange && ['over the uncertainty of the threshold', chanceSpan(errorChanceRange)],
  ];
  return rows.filter((row) => row !== undefined);
}

const span = ({ start, end }: { readonly start: number; readonly end: number }): string =>
  `${seconds(start)} to ${seconds(end)}`;

const pairText = ({ time, threshold }: BestPair): string => `${seconds(time)}, ${volts(threshold)}`;

function chanceSpan({ low, high }: { readonly low: number; readonly high: number }): string {
  const [from, to] = [chanceText(low), chanceText(high)];
  return from === to ? from : `${from} to ${to}`;
}

export const PULSE_HEADER = [
  'Detector at this strobe and threshold',
  'ZERO fallen before',
  'ONE high before',
  'ONE held after',
  'window',
] as const;

/**
 * The detector's output about the strobe, a row each: as designed, at the corners, at faster cycles. In a ZERO it must
 * have fallen after the coupling spike before the strobe; in a ONE the hump must hold it until after.
 */
export function pulseRows({ pulses, strobe, corners, overRate = [] }: StrobeWindow): string[][] {
  const row = (name: string, at: DetectorPulses | undefined, open: StrobeWindow['strobe']): string[] => [
    name,
    fallenText(at),
    at?.oneHeld ? seconds(at.oneHeld.before) : 'low',
    at?.oneHeld ? seconds(at.oneHeld.after) : 'low',
    open ? `${seconds(open.width)} wide` : 'none',
  ];
  const [own, ...faster] = overRate;
  return [
    row(own ? `as designed, a cycle every ${seconds(own.period)}` : 'as designed', pulses, strobe),
    ...faster.map((at, i) => row(rateName(at.period, i === faster.length - 1), at.pulses, at.strobe)),
    ...(corners ? [row('at the corners of the tolerances', corners.pulses, corners.strobe)] : []),
  ];
}

const rateName = (period: number, last: boolean): string =>
  `${last ? 'pulses back to back' : 'highest rate by estimate'}, every ${formatQuantity(period, 's')}`;

/** By how much the output for a ZERO has fallen before the strobe, or that it has not. */
function fallenText(pulses: DetectorPulses | undefined): string {
  const time = pulses?.zeroFallen;
  if (time === undefined) return 'never high';
  return time >= 0 ? seconds(time) : `no, ${seconds(-time)} later`;
}

/** Cases of each bit, as designed and at corners, that are told: those that come nearest to the threshold or over it. */
const TOLD = 8;

/** The cases worth telling a reader, worst first within as designed and at corners, and how many more were run. */
export function tellingCases({ cases }: Pick<StrobeWindow, 'cases'>): {
  readonly told: readonly WindowCase[];
  readonly more: number;
} {
  const told = [false, true].flatMap((corner) =>
    ([1, 0] as const).flatMap((bit) =>
      cases
        .filter((c) => c.bit === bit && (c.corner ?? false) === corner)
        .sort((a, b) => (bit === 1 ? a.atStrobe - b.atStrobe : b.atStrobe - a.atStrobe))
        .filter((c, i) => i < TOLD || c.defines),
    ),
  );
  return { told, more: cases.length - told.length };
}

/** How well the search does: test/soak/corners on designs that nothing was tuned on, SOAK_CORNERS=61-258. */
const SEARCHES =
  'of 202 searches on 101 random designs four fell short by more than 1 % of what was left, none in one of the 24 that read';

/** What the corners leave, in a sentence; empty where they were not run. */
export function cornerSentence({ corners }: StrobeWindow): string {
  if (corners === undefined) return '';
  const { reason, strobe, margin, bestPair } = corners;
  const left = strobe
    ? `the window is ${seconds(strobe.width)} wide (${span(strobe)}).`
    : (reason ?? '').replace(/^No window/, 'there is no window');
  const between =
    margin.total >= 0
      ? `${volts(margin.total)} lies between the least ONE (${corners.one}) and the greatest ZERO (${corners.zero})`
      : `the greatest ZERO (${corners.zero}) is ${volts(-margin.total)} above the least ONE (${corners.one})`;
  const best =
    bestPair !== undefined && bestPair.distance >= 1
      ? `The best pair there is ${pairText(bestPair)}, ${bestPair.distance.toFixed(1)} × the uncertainty from the edge.`
      : 'No pair of strobe and threshold passes there with the stated uncertainties.';
  return `With the corners counted (drive, threshold and strobe ${CORNER_SIGMAS} standard deviations out, both ends of supply and temperature), ${left} At the strobe in force ${between}; these are the worst cases that a search found, not every case was run: ${SEARCHES}. ${best}`;
}

/** How far the opening reaches, in a sentence. */
export function openingSentence({ opening }: StrobeWindow): string {
  if (opening.length === 0) return 'No strobe has a threshold that passes with the stated uncertainties.';
  const low = Math.min(...opening.map((o) => o.low));
  const high = Math.max(...opening.map((o) => o.high));
  const ends = { start: opening[0].time, end: opening[opening.length - 1].time };
  return `The opening, with the stated uncertainties taken off, reaches from ${span(ends)} and from ${volts(low)} to ${volts(high)}.`;
}
