import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { givenAt, reaches } from '../../../engine/strobe/window-at.ts';
import { h, put } from '../../ui/dom.ts';
import { icon, type IconName } from '../../ui/icons.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import { createStrobeDetail } from './strobe-detail.ts';

export interface Readouts {
  readonly node: HTMLElement;
  update(strobe: StrobeState | undefined, waiting: string | undefined): void;
  /** What the numbers rest on, in one sentence. */
  certainty(text: string): void;
}

/** Margins, ratio, window and chance of a wrong bit at the strobe and threshold in force. */
export function createReadouts(): Readouts {
  const status = h('p', { class: 'status', role: 'status' });
  const list = h('dl', { class: 'readouts' });
  const notices = h('ul', { class: 'strobe-notices' });
  const detail = createStrobeDetail();
  const certain = h('p', { class: 'note small' });
  const node = h(
    'section',
    { class: 'readout-panel', 'aria-label': 'Read-outs at the strobe' },
    status,
    list,
    notices,
    certain,
    detail.node,
  );
  let said = '';
  return {
    node,
    certainty: (text) => put(certain, text),
    update(strobe, waiting) {
      const verdict: Verdict = strobe
        ? verdictOf(strobe)
        : { icon: 'busy', word: waiting ?? 'Computing the first read cycle.', detail: '' };
      if (said !== verdict.word + verdict.detail) {
        said = verdict.word + verdict.detail;
        status.className = `status status-${verdict.icon}`;
        put(status, icon(verdict.icon), h('strong', {}, verdict.word), ` ${verdict.detail}`);
      }
      put(
        list,
        ...(strobe ? cells(strobe) : []).map(([name, value]) =>
          h('div', {}, h('dt', {}, name), h('dd', {}, value)),
        ),
      );
      detail.node.hidden = strobe === undefined;
      if (strobe) detail.update(strobe);
      const told = (strobe?.notices ?? []).filter(
        (notice) => notice.code !== 'false-one' && notice.code !== 'false-zero',
      );
      put(notices, ...told.map((notice) => h('li', {}, icon('warning'), notice.message)));
      notices.hidden = told.length === 0;
    },
  };
}

function cells(strobe: StrobeState): (readonly [string, string])[] {
  const { margin, here, errorChance } = strobe;
  const volts = (value: number) => formatQuantity(value, 'V', 3);
  return [
    ['Margin ONE', volts(margin.one)],
    ['Margin ZERO', volts(margin.zero)],
    ['Margin total', volts(margin.total)],
    ['ONE over ZERO', ratioText(margin.ratioDb)],
    ['Window start', here ? formatQuantity(here.start, 's', 4) : 'none here'],
    ['Window end', here ? formatQuantity(here.end, 's', 4) : 'none here'],
    ['Window width', here ? formatQuantity(here.end - here.start, 's', 3) : 'none here'],
    ['Error chance', chance(errorChance)],
  ];
}

const ratioText = (decibel: number): string =>
  Number.isFinite(decibel) ? formatQuantity(decibel, 'dB', 3) : decibel > 0 ? 'no ZERO left' : 'no ONE';

/** 0.0012 -> "1 in 830"; 1e-14 -> "under 1 in 10¹²". */
export function chance(p: number): string {
  if (!(p >= 0)) return 'not known';
  if (p < 1e-12) return 'under 1 in 10¹²';
  if (p >= 0.1) return `${Math.round(p * 100)} %`;
  const every = Number((1 / p).toPrecision(2));
  if (every < 1e4) return `1 in ${every}`;
  const exponent = Math.floor(Math.log10(every));
  const superscript = [...String(exponent)].map((digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)]).join('');
  return `1 in ${Number((every / 10 ** exponent).toFixed(1))}·10${superscript}`;
}

interface Verdict {
  readonly icon: IconName;
  readonly word: string;
  readonly detail: string;
}

/** Icon, word and one clause; never colour alone. */
export function verdictOf(strobe: StrobeState): Verdict {
  const { margin, here, required, intervals } = strobe;
  if (Number.isNaN(margin.one)) return { icon: 'error', word: 'No answer.', detail: strobe.reason ?? '' };
  if (margin.one < 0) return wrong('The least ONE is under the threshold at this strobe.', strobe);
  if (margin.zero < 0) return wrong('The greatest ZERO is over the threshold at this strobe.', strobe);
  if (!here) {
    const near = intervals[0];
    const where = near
      ? `Nearest window: ${formatQuantity(near.start, 's', 4)} to ${formatQuantity(near.end, 's', 4)}.`
      : (strobe.reason ?? 'Uncertainty, aperture and jitter leave no room here.');
    return { icon: 'error', word: 'Outside the window.', detail: where };
  }
  if (!reaches(givenAt(strobe), required))
    return {
      icon: 'warning',
      word: 'Reads right, with less to spare than asked for:',
      detail: `${formatQuantity(required.margin, 'V')} of margin after the threshold's uncertainty and a window of ${formatQuantity(required.width, 's')}.`,
    };
  return {
    icon: 'ok',
    word: 'Reads right.',
    detail: 'The strobe lies inside the window, with the margin asked for.',
  };
}

const wrong = (clause: string, strobe: StrobeState): Verdict => ({
  icon: 'error',
  word: 'Reads wrong.',
  detail: `${clause}${strobe.reason ? ` ${strobe.reason}` : ''}`,
});
