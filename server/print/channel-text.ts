import { formatFigure, formatQuantity } from '../../engine/base/format-quantity.ts';
import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import type { DisturbReading } from '../../engine/history/disturb-readings.ts';
import { buildRows } from './build-rows.ts';
import { textTable } from './table.ts';
import { describeDesign } from './words.ts';

const volt = (value: number): string => (Number.isNaN(value) ? 'none' : formatFigure(value, 'V'));
const second = (value: number): string =>
  value === Infinity ? 'longer than was looked at' : formatQuantity(value, 's');
const amp = (value: number): string => formatQuantity(value, 'A');

/** History, recovery, words, drivers and supply for a reader. */
export function channelText(report: ChannelReport): string {
  return [
    describeDesign(report.design),
    disturbText(report),
    recoveryText(report),
    wordText(report),
    `To build and to feed\n${textTable(buildRows(report.build))}`,
    'Supply current\n' +
      textTable([
        ['cycle rate', 'all bits ZERO', 'all bits ONE', ''],
        ...report.supply.map(({ rate, allZeros, allOnes, inTime }) => [
          formatQuantity(rate, 'Hz'),
          amp(allZeros),
          amp(allOnes),
          inTime ? '' : 'out of cycle time',
        ]),
      ]),
  ].join('\n');
}

function disturbText({ disturb }: ChannelReport): string {
  const row = (name: string, reading: DisturbReading): string[] => [
    name,
    volt(reading.peak),
    second(reading.peakTime),
    volt(reading.atStrobe),
    formatQuantity(reading.flux, 'Wb'),
  ];
  const { uV1, dV1, uVz, dVz, keptZero, worst } = disturb;
  const history = (reading: DisturbReading): string =>
    reading.train === '' ? 'nothing between' : reading.train;
  return (
    `Undisturbed and disturbed readings of the selected core, ${disturb.length} disturbances each\n` +
    textTable([
      ['', 'its own peak', 'at', 'heard at the strobe', 'flux before'],
      row('uV1, undisturbed ONE', uV1),
      row('dV1, ONE after half-reads', dV1),
      row('uVz, ZERO as a read leaves it', uVz),
      row('dVz, ZERO after half-writes', dVz),
      row('ZERO kept by its own inhibited write', keptZero),
      row('least ONE of all histories tried', worst.one),
      row('greatest ZERO of all histories tried', worst.zero),
    ]) +
    `An inhibited write drives the core with ${formatQuantity(disturb.inhibitedDrive, '1')} of a half-select.\n` +
    `Least ONE after: ${history(worst.one)}.\nGreatest ZERO after: ${history(worst.zero)}.\n` +
    `${disturb.tried.length} histories run in full.\n`
  );
}

function recoveryText({ recovery }: ChannelReport): string {
  const { estimate, shortestCycle, tail, kick, deadTimes, duty, history } = recovery;
  const table = textTable([
    ['dead time', 'inhibit left on the wire', 'left at the strobe'],
    ...deadTimes.map((point) => [second(point.deadTime), volt(point.inhibited), volt(point.left)]),
  ]);
  return (
    'Inhibit and the next read\n' +
    `After the inhibit edge ${volt(kick)} at most on the wire; the amplifier is under ${volt(estimate.target)} after ${second(tail)} (estimate ${second(estimate.time)}).\n` +
    `Shortest cycle ${second(shortestCycle.simulated)} (estimate ${second(shortestCycle.estimated)}).\n` +
    `What inhibit does to the cores for good moves the strobe's value by ${volt(history)}.\n${table}${dutyText(duty)}`
  );
}

function dutyText({ points, worst }: ChannelReport['recovery']['duty']): string {
  if (worst === undefined) return '';
  const share = (part: number): string => `${Number((100 * part).toPrecision(3))} %`;
  return (
    'Through AC coupling, by the share of cycles that were inhibited\n' +
    textTable([
      ['inhibited', 'baseline lies lower by', 'ONE at the strobe', 'ZERO at the strobe'],
      ...points.map((point) => [
        share(point.inhibitedShare),
        volt(point.baseline),
        volt(point.one),
        volt(point.zero),
      ]),
    ]) +
    `Worst for a ONE: ${share(worst.one.inhibitedShare)} inhibited (${volt(worst.one.one)}); for a ZERO: ${share(worst.zero.inhibitedShare)} (${volt(worst.zero.zero)}).\n`
  );
}

function wordText({ words }: ChannelReport): string {
  if (words.fixed)
    return 'Words\n  Current sources within their compliance: the other bits of the word do not matter.\n';
  const rows = words.ones.map((n, i) => [
    String(n),
    volt(words.one[i]),
    volt(words.zero[i]),
    amp(words.current[i]),
  ]);
  return `Words: what the other bits do\n${textTable([['ONEs in the word', 'ONE at the strobe', 'ZERO at the strobe', 'X current'], ...rows])}`;
}
