import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { roundEstimate } from '../../engine/studies/shared/format-estimate.ts';
import type { MapPlace, Series, StudyResult } from '../../engine/studies/shared/shape.ts';
import { h, put } from '../ui/dom.ts';
import type { ChartData, Column, Picture } from '../sharing/chart-data.ts';
import { createFigure, type Figure } from '../sharing/figure.ts';
import { histogramChart } from './histogram-chart.ts';
import { mapChart } from './map-chart.ts';
import { rankingChart } from './ranking-chart.ts';
import { seriesChart } from './series-chart.ts';

export interface StudyFigureOptions {
  readonly title: string;
  readonly onOpen: (point: number, at?: MapPlace) => void;
}

/** The charts of one study, with its table and files behind them. */
export function createStudyFigure({ title, onOpen }: StudyFigureOptions): Figure & {
  show(study: StudyResult): void;
} {
  const figure = createFigure({ title, level: 'h2', className: 'study-figure' });
  figure.body.classList.add('study-charts');
  return {
    ...figure,
    show(study) {
      const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
      const width = figure.body.clientWidth;
      const pictures = [
        ...mapPictures(study, Math.min(width, 760 * em), em, onOpen),
        ...histogramPictures(study, Math.min(width, 760 * em), em, onOpen),
        ...panelPictures(study, width, em, onOpen),
        ...rankingPictures(study, Math.min(width, 860 * em), em, onOpen),
      ];
      put(
        figure.body,
        ...pictures.map(({ svg, title: name }) =>
          h('figure', { class: 'small-panel' }, h('figcaption', {}, name ?? ''), svg),
        ),
      );
      figure.update(() => dataOf(study, title, pictures));
    },
  };
}

function mapPictures(
  study: StudyResult,
  width: number,
  em: number,
  onOpen: StudyFigureOptions['onOpen'],
): Picture[] {
  const { map } = study;
  if (!map || map.cells.length < 3) return [];
  const svg = mapChart({ map, width, height: Math.min(width * 0.68, 460 * em), em, onOpen });
  const best = Math.max(...map.cells.map((cell) => (cell.pass ? (cell.margin ?? 0) : 0)));
  const shades =
    best > 0
      ? ` The stronger the tint the more margin, up to ${formatQuantity(best, 'V')}; hatched where it fails.`
      : '';
  return [{ svg, title: `${capital(map.yLabel)} against ${map.xLabel}.${shades}` }];
}

function histogramPictures(
  study: StudyResult,
  width: number,
  em: number,
  onOpen: StudyFigureOptions['onOpen'],
): Picture[] {
  const { histogram, estimates } = study;
  if (!histogram) return [];
  const [bit] = estimates;
  const caption = bit ? `passes ${roundEstimate(bit).value}` : 'passes';
  const draws = histogram.counts.map((_, i) =>
    leastOfBin(study, histogram.edges[i]!, histogram.edges[i + 1]!),
  );
  const svg = histogramChart({ histogram, caption, width, height: 320 * em, em, draws, onOpen });
  return [{ svg, title: `${capital(histogram.label)}, ${study.count.done} draws` }];
}

/** Index of the draw with the least margin of a bin; -1 in an empty one. */
function leastOfBin({ results }: StudyResult, from: number, to: number): number {
  let least = { index: -1, margin: Infinity };
  for (const { index, values } of results) {
    const margin = Number(values.margin ?? NaN);
    if (margin >= from && margin < to && margin < least.margin) least = { index, margin };
  }
  return least.index;
}

/** The effects of inputs are the chart of a study that has no other. */
function rankingPictures(
  study: StudyResult,
  width: number,
  em: number,
  onOpen: StudyFigureOptions['onOpen'],
): Picture[] {
  if (study.map || study.histogram || study.series.length > 0 || study.ranking.length === 0) return [];
  const svg = rankingChart({ ranking: study.ranking, width, em, onOpen });
  return [{ svg, title: 'Change of the margin when each input moves' }];
}

function panelPictures(
  study: StudyResult,
  width: number,
  em: number,
  onOpen: StudyFigureOptions['onOpen'],
): Picture[] {
  const panels = new Map<string, Series[]>();
  for (const line of study.series) panels.set(line.panel, [...(panels.get(line.panel) ?? []), line]);
  const nameOf = (point: number): string => study.plan.points[point]?.name ?? '';
  const columns = width >= 1000 * em ? 2 : 1;
  const each = columns === 1 ? Math.min(width, 760 * em) : (width - 32 * em) / 2;
  return [...panels].map(([panel, series]) => ({
    svg: seriesChart({ panel, series, width: each, height: 230 * em, em, onOpen, nameOf }),
    title: `${capital(panel)}${series.some(({ role }) => role === 'law') ? '; dotted: by counting alone' : ''}`,
  }));
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function dataOf(study: StudyResult, title: string, pictures: readonly Picture[]): ChartData {
  const columns: Column[] = [
    { title: 'point', values: study.results.map((result) => result.name) },
    ...study.columns.map(({ key, label, unit }) => ({
      title: unit === '' || unit === 'text' ? label : `${label} / ${unit}`,
      values: study.results.map((result) => cellValue(result.values[key])),
    })),
    ...(study.failed.length > 0
      ? [{ title: 'failed', values: study.results.map((result) => result.failed ?? '') }]
      : []),
  ];
  return {
    file: `study-${study.kind}`,
    title,
    summary: study.findings.join(' '),
    columns,
    design: checkDesign(study.plan.design),
    seed: study.seed,
    pictures,
  };
}

function cellValue(value: number | string | boolean | null | undefined): number | string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return value ?? '';
}
