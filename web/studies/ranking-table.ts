import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { StudyResult } from '../../engine/studies/shared/shape.ts';
import { h, s } from '../ui/dom.ts';

/** Ranked causes as a table with bars; nothing where a study ranks nothing. */
export function rankingTable(study: StudyResult): HTMLElement | undefined {
  if (study.ranking.length === 0) return undefined;
  const most = Math.max(1e-300, ...study.ranking.map(({ value }) => Math.abs(value)));
  const rows = study.ranking.slice(0, 40).map(({ name, value, unit, note }) => {
    const bar = s(
      'svg',
      { width: 128, height: 10, 'aria-hidden': 'true' },
      s('rect', { width: (128 * Math.abs(value)) / most, height: 10 }),
    );
    const text = unit === '' ? `${Math.round(value * 1000) / 10} %` : formatQuantity(value, unit as Unit, 2);
    return h(
      'tr',
      {},
      h('th', { scope: 'row' }, name),
      h('td', {}, bar),
      h('td', {}, text),
      h('td', { class: 'note' }, note),
    );
  });
  return h(
    'div',
    { class: 'table-scroll study-ranking', tabindex: 0, role: 'region', 'aria-label': 'Ranked' },
    h('table', {}, h('caption', {}, 'Ranked'), h('tbody', {}, ...rows)),
  );
}
