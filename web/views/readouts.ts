import { formatQuantity } from '../../engine/index.ts';
import { h, put } from '../dom.ts';
import { icon, type IconName } from '../icons.ts';
import type { StrobeState } from '../strobe-state.ts';

export interface Readouts {
  readonly node: HTMLElement;
  update(strobe: StrobeState | undefined): void;
}

/** Margins, ratio, window and chance of a wrong bit at the strobe and threshold in force. */
export function createReadouts(): Readouts {
  const status = h('p', { class: 'status', role: 'status' });
  const list = h('dl', { class: 'readouts' });
  const node = h(
    'section',
    { class: 'readout-panel', 'aria-label': 'Read-outs at the strobe' },
    status,
    list,
  );
  return {
    node,
    update(strobe) {
      if (!strobe) {
        put(list);
        put(status, icon('busy'), ' Computing the first read cycle');
        return;
      }
      const verdict = verdictOf(strobe);
      status.className = `status status-${verdict.icon}`;
      put(status, icon(verdict.icon), h('strong', {}, verdict.word), ` ${verdict.detail}`);
      put(list, ...cells(strobe).map(([name, value]) => h('div', {}, h('dt', {}, name), h('dd', {}, value))));
    },
  };
}

function cells(strobe: StrobeState): (readonly [string, string])[] {
  const { margin, window, errorChance } = strobe;
  const volts = (value: number) => formatQuantity(value, 'V', 3);
  return [
    ['Margin ONE', volts(margin.one)],
    ['Margin ZERO', volts(margin.zero)],
    ['Margin total', volts(margin.total)],
    ['Ratio', Number.isFinite(margin.ratioDb) ? formatQuantity(margin.ratioDb, 'dB', 3) : 'no ratio'],
    ['Window start', window ? formatQuantity(window.start, 's', 4) : 'none'],
    ['Window end', window ? formatQuantity(window.end, 's', 4) : 'none'],
    ['Width', window ? formatQuantity(window.end - window.start, 's', 3) : 'none'],
    ['Error chance', chance(errorChance)],
  ];
}

/** 0.0012 -> "1 in 830"; 1e-14 -> "under 1 in 10¹²". */
export function chance(p: number): string {
  if (!(p >= 0)) return 'not known';
  if (p < 1e-12) return 'under 1 in 10¹²';
  if (p >= 0.1) return `${Math.round(p * 100)} %`;
  const every = Number((1 / p).toPrecision(2));
  if (every < 1e4) return `1 in ${every}`;
  const exponent = Math.floor(Math.log10(every));
  const superscript = [...String(exponent)].map((digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)]).join('');
  return `1 in ${Number((every / 10 ** exponent).toFixed(1))} × 10${superscript}`;
}

export interface Verdict {
  readonly icon: IconName;
  readonly word: string;
  readonly detail: string;
}

/** Icon, word and one clause; never colour alone. */
export function verdictOf(strobe: StrobeState): Verdict {
  const { margin, window, required } = strobe;
  if (margin.one < 0)
    return {
      icon: 'error',
      word: 'Reads wrong.',
      detail: 'The least ONE is under the threshold at this strobe.',
    };
  if (margin.zero < 0)
    return {
      icon: 'error',
      word: 'Reads wrong.',
      detail: 'The greatest ZERO is over the threshold at this strobe.',
    };
  if (!window)
    return {
      icon: 'error',
      word: 'Outside the window.',
      detail: 'Uncertainty, aperture and jitter leave no room here.',
    };
  if (Math.min(margin.one, margin.zero) < required.margin || window.end - window.start < required.width)
    return {
      icon: 'warning',
      word: 'Reads, with little to spare.',
      detail: `Asked for: ${formatQuantity(required.margin, 'V')} of margin and a window of ${formatQuantity(required.width, 's')}.`,
    };
  return {
    icon: 'ok',
    word: 'Reads right.',
    detail: 'The strobe lies inside the window with the margin asked for.',
  };
}
