import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { extent } from '../charts/decimate.ts';
import type { Run } from './run.ts';
import type { StrobeState } from './strobe-state.ts';
import { CAUSES, causesOf, samplesOf, seenTrace, selectedPolarity } from './traces.ts';

/** One paragraph a chart, made from the same numbers, for readers who cannot see it. */

const volts = (value: number): string => formatQuantity(value, 'V', 3);
const seconds = (value: number): string => formatQuantity(value, 's', 4);

export function mainSummary(run: Run, strobe: StrobeState): string {
  const { mat } = run.design;
  const at = strobe.here
    ? `The strobe at ${seconds(strobe.time)} lies in a window from ${seconds(strobe.here.start)} to ${seconds(strobe.here.end)}`
    : `The strobe at ${seconds(strobe.time)} lies in no window`;
  return (
    `Amplifier output as the latch sees it, referred to the sense wire, ${mat.rows} by ${mat.columns} cores, over a cycle of ${seconds(run.one.time.at(-1) ?? 0)}. ` +
    `${peakClause(run, 1)}; ${peakClause(run, 0)}. ${at}; there the least ONE is ${volts(strobe.margin.one)} over the threshold of ` +
    `${volts(strobe.level)} and the greatest ZERO ${volts(strobe.margin.zero)} under it.`
  );
}

function peakClause(run: Run, bit: 0 | 1): string {
  const values = seenTrace(bit === 1 ? run.one : run.zero);
  let at = 0;
  for (let i = 0; i < values.length; i++) if (Math.abs(values[i]!) > Math.abs(values[at]!)) at = i;
  const name = bit === 1 ? 'The ONE' : 'the ZERO';
  return `${name} reaches its greatest size, ${volts(values[at] ?? 0)}, at ${seconds(run.one.time[at] ?? 0)}`;
}

export function causesSummary(run: Run, bit: 0 | 1, strobe: number): string {
  const causes = causesOf(run, bit);
  const end = run.one.time.at(-1) ?? 0;
  const at = Math.round(strobe / (end / Math.max(1, run.one.time.length - 1)));
  const clauses = CAUSES.map(({ key, title }) => {
    const [low, high] = extent(samplesOf(run, causes[key]), 0, end) ?? [0, 0];
    return `${title.toLowerCase()} from ${volts(low)} to ${volts(high)}, ${volts(causes[key][at] ?? 0)} at the strobe`;
  });
  return `Sense voltage by cause while a ${bit === 1 ? 'ONE' : 'ZERO'} is read: ${clauses.join('; ')}. The four add up to the total.${selectedPolarity(run) < 0 ? ' The selected core has polarity −1: the chart is turned over, the numbers are as they are at the amplifier.' : ''}`;
}

export function currentsSummary(run: Run, bit: 0 | 1): string {
  const { x, y, inhibit } = (bit === 1 ? run.one : run.zero).currents;
  const largest = (values: Float64Array) =>
    values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const amps = (values: Float64Array) => formatQuantity(largest(values), 'A', 3);
  const inhibited =
    largest(inhibit) > 0 ? `inhibit ${amps(inhibit)}` : 'no inhibit, since the ONE is written back';
  return `Drive currents of the cycle, read negative and write positive: X up to ${amps(x)}, Y up to ${amps(y)}, ${inhibited}.`;
}

export function matSummary(run: Run, bits: ArrayLike<number>): string {
  const { mat, selected } = run.design;
  let ones = 0;
  for (let i = 0; i < bits.length; i++) ones += bits[i]!;
  const half = mat.rows + mat.columns - 2;
  return (
    `A mat of ${mat.rows} rows and ${mat.columns} columns holding ${ones} ONEs and ${bits.length - ones} ZEROs. ` +
    `The core in row ${selected.row}, column ${selected.column} is selected; ${half} cores are half-selected, ` +
    `${mat.rows - 1} on its column and ${mat.columns - 1} on its row.`
  );
}

export function coreSummary(run: Run, bit: 0 | 1, at: number): string {
  const { drive, state } = (bit === 1 ? run.one : run.zero).selected;
  const flux = (value: number) => formatQuantity(value, 'Wb', 3);
  return (
    `Static loop of the core and the path of the selected core, which starts at ${flux(state[0] ?? 0)} and ends at ${flux(state.at(-1) ?? 0)}. ` +
    `At ${seconds(run.one.time[at] ?? 0)} it sees ${formatQuantity(drive[at] ?? 0, 'A', 3)} and holds ${flux(state[at] ?? 0)}.`
  );
}

/** How many runs the envelope rests on, how well strobe and threshold are known, how exact the traces are. */
export function certaintyText(run: Run, judged: Run | undefined): string {
  const error = run.one.error?.senseVoltage;
  const exact =
    error === undefined
      ? ''
      : ` Sense voltage computed to ±${formatQuantity(error, 'V', 2)} (half step, all of the cycle).`;
  if (!judged?.ensemble) return exact.trim();
  const { cases, uncertainties } = judged.ensemble;
  const kinds =
    judged.grade === 'full'
      ? 'patterns, disturb states, addresses, history and corners'
      : 'patterns and disturb states so far';
  return (
    `Least and greatest of ${cases.length} runs (${kinds}); threshold known to ±${formatQuantity(uncertainties.threshold, 'V', 2)}, ` +
    `strobe to ±${formatQuantity(uncertainties.guard, 's', 2)}.${exact}`
  );
}
