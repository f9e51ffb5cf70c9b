import { formatFigure, formatQuantity } from '../../engine/base/format-quantity.ts';
import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import type { DisturbReading } from '../../engine/history/disturb-readings.ts';
import { h } from '../ui/dom.ts';

const volts = (value: number): string => (Number.isNaN(value) ? 'none' : formatFigure(value, 'V'));
const seconds = (value: number): string =>
  value === Infinity ? 'longer than was looked at' : formatQuantity(value, 's', 3);
const amps = (value: number): string => formatQuantity(value, 'A', 3);

/** Everything of one sense channel, a table each with its words. */
export function channelParts(report: ChannelReport): HTMLElement[] {
  const { disturb, recovery, words, supply, build } = report;
  const reading = (name: string, { peak, peakTime, atStrobe, flux }: DisturbReading): string[] => [
    name,
    volts(peak),
    seconds(peakTime),
    volts(atStrobe),
    formatQuantity(flux, 'Wb', 4),
  ];
  const after = ({ train }: DisturbReading): string => (train === '' ? 'nothing between' : train);
  return [
    part(
      'Undisturbed and disturbed readings',
      `${disturb.length} disturbances each. Least ONE after: ${after(disturb.worst.one)}. Greatest ZERO after: ${after(disturb.worst.zero)}. ${disturb.tried.length} histories run in full. An inhibited write drives a core with ${disturb.inhibitedDrive.toPrecision(4)} of a half-select.`,
      ['', 'its own peak', 'at', 'at the strobe', 'flux before'],
      [
        reading('Undisturbed ONE, uV1', disturb.uV1),
        reading('Disturbed ONE, dV1', disturb.dV1),
        reading('Undisturbed ZERO, uVz', disturb.uVz),
        reading('Disturbed ZERO, dVz', disturb.dVz),
        reading('ZERO kept by its own inhibited write', disturb.keptZero),
        reading('Least ONE of all tried', disturb.worst.one),
        reading('Greatest ZERO of all tried', disturb.worst.zero),
      ],
    ),
    part(
      'Inhibit and the next read',
      `Once the inhibit is off, ${volts(recovery.kick)} at most are on the wire; the amplifier is under ${volts(recovery.estimate.target)} after ${seconds(recovery.tail)}. Shortest cycle ${seconds(recovery.shortestCycle.simulated)} (estimate ${seconds(recovery.shortestCycle.estimated)}). What inhibit does to the cores for good moves the value at the strobe by ${volts(recovery.history)}.`,
      ['Dead time', 'inhibit left on the wire', 'left at the strobe'],
      recovery.deadTimes.map((point) => [seconds(point.deadTime), volts(point.inhibited), volts(point.left)]),
    ),
    ...dutyPart(recovery.duty),
    part(
      'Words of the stack',
      words.fixed
        ? 'Current sources within their compliance: the other bits of the word do not matter.'
        : 'ONEs that switch in the other mats slow a voltage-driven line.',
      ['ONEs in the word', 'ONE at the strobe', 'ZERO at the strobe', 'X current'],
      words.ones.map((n, i) => [
        String(n),
        volts(words.one[i]!),
        volts(words.zero[i]!),
        amps(words.current[i]!),
      ]),
    ),
    part(
      'Drivers and supply',
      `${build.drivers.withInhibit} drivers with inhibit, ${build.drivers.withoutInhibit} without; ${build.cores} cores; highest rate ${formatQuantity(build.highestRate, 'Hz', 3)} by estimate; ${formatQuantity(build.access, 's', 3)} from address to data as three turnovers of the core.`,
      ['Cycle rate', 'all bits ZERO', 'all bits ONE', 'cycle time'],
      supply.map(({ rate, allZeros, allOnes, inTime }) => [
        formatQuantity(rate, 'Hz', 3),
        amps(allZeros),
        amps(allOnes),
        inTime ? 'enough' : 'too short',
      ]),
    ),
  ];
}

/** Baseline through AC coupling; nothing when DC coupled. */
function dutyPart({ points, worst }: ChannelReport['recovery']['duty']): HTMLElement[] {
  if (worst === undefined) return [];
  const share = (of: number): string => `${Number((100 * of).toPrecision(3))} %`;
  return [
    part(
      'Baseline through AC coupling',
      `Worst for a ONE with ${share(worst.one.inhibitedShare)} of the cycles inhibited, for a ZERO with ${share(worst.zero.inhibitedShare)}. To plan with either, set the share of inhibited cycles under Cycle.`,
      ['Inhibited', 'baseline lower by', 'ONE at the strobe', 'ZERO at the strobe'],
      points.map(({ inhibitedShare, baseline, one, zero }) => [
        share(inhibitedShare),
        volts(baseline),
        volts(one),
        volts(zero),
      ]),
    ),
  ];
}

function part(
  title: string,
  words: string,
  header: readonly string[],
  rows: readonly (readonly string[])[],
): HTMLElement {
  const cell = (text: string, i: number): HTMLElement =>
    i === 0 ? h('th', { scope: 'row' }, text) : h('td', {}, text);
  const table = h(
    'table',
    {},
    h('caption', {}, words),
    h(
      'thead',
      {},
      h('tr', {}, ...header.map((name) => (name ? h('th', { scope: 'col' }, name) : h('td', {})))),
    ),
    h('tbody', {}, ...rows.map((row) => h('tr', {}, ...row.map(cell)))),
  );
  const scrolling = h(
    'div',
    { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': title },
    table,
  );
  return h('section', {}, h('h3', {}, title), scrolling);
}
