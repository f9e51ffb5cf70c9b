import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { StudyResult } from '../../engine/studies/shared/shape.ts';
import { chartSvg } from '../charts/chart-frame.ts';
import { s } from '../ui/dom.ts';

export interface RankingChartOptions {
  readonly ranking: StudyResult['ranking'];
  readonly width: number;
  readonly em: number;
  readonly onOpen: (point: number) => void;
}

const ROWS = 20;

/** Signed bars about zero, the largest effect first, each with its name and value. */
export function rankingChart({ ranking, width, em, onOpen }: RankingChartOptions): SVGSVGElement {
  const rows = ranking.slice(0, ROWS);
  const rowHeight = 22 * em;
  const names = Math.min(width * 0.42, 7.4 * em * Math.max(...rows.map(({ name }) => name.length)) + 12 * em);
  const values = 78 * em;
  const zero = names + (width - names) / 2;
  const reach = Math.max(4, (width - names) / 2 - values);
  const most = Math.max(1e-300, ...rows.map(({ value }) => Math.abs(value)));
  const height = rows.length * rowHeight + 8 * em;
  return chartSvg(
    { name: 'Ranked effects', width, height },
    s('rect', { x: names, y: 0, width: width - names, height, class: 'ground' }),
    s('line', { x1: zero, x2: zero, y1: 0, y2: height, class: 'zero-line' }),
    ...rows.map(({ name, value, unit, note, point }, i) => {
      const y = (i + 0.5) * rowHeight + 4 * em;
      const length = (reach * Math.abs(value)) / most;
      const side = value < 0 ? -1 : 1;
      return s(
        'g',
        point === undefined ? {} : { class: 'opens', 'data-opens': point, click: () => onOpen(point) },
        s('title', {}, `${name}: ${note}${point === undefined ? '' : '; open its design'}`),
        // The whole row answers, however short its bar.
        s('rect', {
          x: names,
          y: y - rowHeight / 2,
          width: width - names,
          height: rowHeight,
          class: 'study-hit',
        }),
        s('text', { x: names - 8 * em, y: y + 4 * em, class: 'chart-note', 'text-anchor': 'end' }, name),
        s('rect', {
          x: Math.min(zero, zero + side * length),
          y: y - 5 * em,
          width: length,
          height: 10 * em,
          class: 'study-bar',
        }),
        s(
          'text',
          {
            x: zero + side * (length + 6 * em),
            y: y + 4 * em,
            class: 'chart-note',
            'text-anchor': value < 0 ? 'end' : 'start',
          },
          formatQuantity(value, unit as Unit, 2),
        ),
      );
    }),
  );
}
