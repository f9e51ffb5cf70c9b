import { formatQuantity } from '../../base/format-quantity.ts';
import type { MatTestResult } from '../../history/mat-test.ts';
import { makeSeries } from '../shared/series.ts';
import type { Column, PointResult, Series, StudyPlan } from '../shared/shape.ts';
import { extremes } from './extremes.ts';
import { PREFIX, isWholeMat } from './whole-mat.ts';

/** What the short marches are not. */
export function marchWords({ options }: StudyPlan): string[] {
  if (options.marches !== true) return [];
  const short = `A march here is the last ${Number(options.marchCycles)} cycles at most on the row and column of the one core that is read`;
  return [
    options.wholeMat === true
      ? `${short}; those over the whole mat follow.`
      : `${short}, not over every address: option wholeMat runs march and checkerboard over the whole mat.`,
  ];
}

export const COLUMNS: readonly Column[] = [
  { key: 'pattern', label: 'pattern', unit: 'text' },
  { key: 'state', label: 'history', unit: 'text' },
  { key: 'one', label: 'ONE at the strobe', unit: 'V' },
  { key: 'zero', label: 'ZERO at the strobe', unit: 'V' },
  { key: 'marginOne', label: 'margin of the ONE', unit: 'V' },
  { key: 'marginZero', label: 'margin of the ZERO', unit: 'V' },
  { key: 'halfSelectOne', label: 'half-selected cores at the strobe, ONE', unit: 'V' },
  { key: 'halfSelectZero', label: 'half-selected cores at the strobe, ZERO', unit: 'V' },
  { key: 'count', label: 'half-selected ONEs, signed by winding', unit: '' },
  { key: 'reads', label: 'reads over the whole mat', unit: '' },
  { key: 'wrong', label: 'of them wrong', unit: '' },
];

/** Why a result is worth opening: the first of `extremes`, the second. */
export const EXTREMES = ['least ONE', 'greatest ZERO'] as const;

/** Which patterns are met with the least ONE and the greatest ZERO, and whether a checkerboard is one of them. */
export function patternFindings(results: readonly PointResult[]): string[] {
  const { least, greatest } = extremes(results);
  const boards = results.filter((result) => String(result.values.pattern).startsWith('checkerboard'));
  const board = extremes(boards).greatest;
  const volts = ({ values }: PointResult, key: string): string => formatQuantity(Number(values[key]), 'V');
  return [
    ...(least ? [`The least ONE, ${volts(least, 'one')}, is met with ${least.name}.`] : []),
    ...(greatest ? [`The greatest ZERO, ${volts(greatest, 'zero')}, is met with ${greatest.name}.`] : []),
    ...(greatest && board && greatest !== board
      ? [`A checkerboard gives a ZERO of ${volts(board, 'zero')} at most: it is not the worst case here.`]
      : []),
  ];
}

/** Which of the two margins is the smaller. */
export const marginWord = ({ values }: PointResult): string =>
  Number(values.marginOne) < Number(values.marginZero) ? 'margin of the ONE' : 'margin of the ZERO';

export const patternSeries = (results: readonly PointResult[]): Series[] =>
  (['one', 'zero'] as const).map((key) =>
    makeSeries(
      results,
      { label: 'pattern', unit: '', value: (_, i) => i },
      {
        key,
        name: `${key === 'one' ? 'ONE' : 'ZERO'} at the strobe`,
        panel: 'at the strobe',
        label: 'u',
        unit: 'V',
      },
    ),
  );

/** One sentence a programme. */
export function wholeMatFindings(results: readonly PointResult[]): string[] {
  return results
    .filter((result) => isWholeMat(result.values.pattern) && typeof result.values.wrong === 'number')
    .map(({ values, data }) => {
      const name = String(values.pattern).slice(PREFIX.length);
      const { cycles, runs, unchecked } = data as unknown as Pick<
        MatTestResult,
        'cycles' | 'runs' | 'unchecked'
      >;
      const wrong = Number(values.wrong);
      const verdict =
        wrong === 0 ? 'none would be wrong' : wrong === 1 ? 'one would be wrong' : `${wrong} would be wrong`;
      const left = unchecked > 0 ? `; ${unchecked} near the threshold rest on the estimate alone` : '';
      return `Over the whole mat, ${name}: of ${Number(values.reads)} reads in ${cycles} cycles ${verdict} (${runs} full runs, the others by an estimate fitted to them${left}).`;
    });
}
