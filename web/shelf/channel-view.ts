import { formatFigure, formatQuantity } from '../../engine/base/format-quantity.ts';
import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import type { Design } from '../../engine/design/design.ts';
import type { DisturbReading } from '../../engine/history/disturb-readings.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createSideClient } from '../compute/side-client.ts';
import { createMore } from '../sharing/more.ts';

export interface ChannelView {
  readonly node: HTMLElement;
  /** `key`: equal as long as all that was asked about is the same. */
  update(design: Design | undefined, key: string): void;
}

const volts = (value: number): string => (Number.isNaN(value) ? 'none' : formatFigure(value, 'V'));
const seconds = (value: number): string =>
  value === Infinity ? 'longer than was looked at' : formatQuantity(value, 's', 3);
const amps = (value: number): string => formatQuantity(value, 'A', 3);

/** Disturbed readings, recovery after inhibit, words, drivers and supply: asked for, since it takes many runs. */
export function createChannelView(): ChannelView {
  const client = createSideClient();
  let design: Design | undefined;
  let key = '';
  let asked: string | undefined;
  let answered: { readonly key: string; readonly report: ChannelReport } | undefined;
  const start = h('button', { type: 'button', click: () => ask() }, 'Run it');
  const cancel = h('button', { type: 'button', hidden: true, click: () => stop('Cancelled.') }, 'Cancel');
  const status = h('p', { class: 'status', role: 'status' });
  const output = h('div', { class: 'advice channel' });
  const more = createMore(
    'History, recovery, words and supply',
    () => undefined,
    h(
      'p',
      { class: 'note' },
      'The selected core is read fresh and after every history that can hurt it; the inhibit of the cycle before is followed to the next strobe; words are written and read; the supply is added up. Some seconds.',
    ),
    h('div', { class: 'place' }, start, cancel),
    h('div', { class: 'status-row' }, status),
    output,
  );

  function ask(): void {
    if (!design) return;
    asked = key;
    running(true);
    put(status, icon('busy'), 'Running.');
    client.ask('channel', design, {
      onAnswer: (report) => {
        answered = { key: asked ?? key, report };
        running(false);
        show();
      },
      onFailed: ({ message }) => {
        running(false);
        put(status, icon('error'), message);
      },
    });
  }

  function running(on: boolean): void {
    start.disabled = on;
    cancel.hidden = !on;
    if (!on) asked = undefined;
  }

  function stop(word: string): void {
    client.cancel();
    running(false);
    put(status, icon('warning'), word);
  }

  function show(): void {
    if (!answered) return;
    const old = answered.key !== key;
    output.classList.toggle('stale', old);
    put(status, ...(old ? [icon('stale'), 'Stale: of the inputs before.'] : [icon('ok'), 'Done.']));
    put(output, ...parts(answered.report));
  }

  return {
    node: more.node,
    update(next, nextKey) {
      design = next ?? design;
      if (key === nextKey) return;
      key = nextKey;
      if (asked !== undefined && asked !== key) stop('Cancelled: the inputs have changed.');
      start.disabled = asked !== undefined || !next;
      show();
    },
  };
}

function parts(report: ChannelReport): HTMLElement[] {
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
