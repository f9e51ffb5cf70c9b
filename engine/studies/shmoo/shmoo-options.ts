import * as z from 'zod';
import { readPeriod, readQuantity, DIMENSIONS } from '../../base/units.ts';
import { choice, count, ratio, received, record } from '../../design/schema/fields.ts';
import { casesOption, inputName, leftOut, seedOption, STROBES } from '../shared/option-fields.ts';
import type { StudyInput } from '../shared/inputs.ts';

const end = (is: string): z.ZodType<string | number | undefined> =>
  leftOut(
    z
      .union([z.string(), z.number()], {
        error: ({ input }) => `must be text with a unit, but ${received(input)}; write it as a design does`,
      })
      .meta({ description: is, 'x-kind': 'quantity', 'x-range': 'a quantity of that input' }),
    'about the nominal value',
  );

/** Every option as a file gives it; an end of an axis is read in the unit of its input. */
const given = record('Where it works: pass and margin over two inputs.', {
  seed: seedOption,
  x: inputName('Input across.').prefault('strobe'),
  xFrom: end('Where x begins.'),
  xTo: end('Where x ends.'),
  y: inputName('Input upward.').prefault('drive'),
  yFrom: end('Where y begins.'),
  yTo: end('Where y ends.'),
  rows: count({ from: 2, to: 101, is: 'Rows that are scanned.' }).prefault(9),
  columns: count({ from: 2, to: 101, is: 'Columns that are scanned.' }).prefault(9),
  coarse: count({
    from: 2,
    to: 101,
    is: 'Places tried on a row or column before its edges are halved to.',
  }).prefault(5),
  resolution: ratio({
    from: 1e-4,
    to: 0.25,
    is: 'How finely edges are found, as a share of the axis.',
  }).prefault(1 / 128),
  strobe: choice(STROBES, 'The strobe of the design as it stands, or the best at each place.').prefault(
    'fixed',
  ),
  cases: casesOption,
});

export const shmooOptions = given.transform((options, context) => {
  const read = (axis: 'x' | 'y', which: 'From' | 'To'): number | undefined => {
    const value = options[`${axis}${which}`];
    if (value === undefined) return undefined;
    const found = readFor(options[axis], value);
    if (typeof found === 'number') return found;
    context.issues.push({ code: 'custom', message: found, input: value, path: [`${axis}${which}`] });
    return undefined;
  };
  return {
    ...options,
    xFrom: read('x', 'From'),
    xTo: read('x', 'To'),
    yFrom: read('y', 'From'),
    yTo: read('y', 'To'),
  };
});

/** SI value of an end of an axis, or why it is refused. */
function readFor({ unit, paths }: StudyInput, value: string | number): number | string {
  if (unit === '1')
    return typeof value === 'number' && Number.isFinite(value)
      ? value
      : `must be a plain number, but ${received(value)}; write it without quotes or unit`;
  const period = paths.includes('/cycle/period');
  const must = `must be ${DIMENSIONS[unit]}${period ? ' or a rate' : ''} as text with its unit (${unit})`;
  if (typeof value === 'number') return `${must}, but is ${value}, a bare number; add the unit`;
  const reading = period ? readPeriod(value) : readQuantity(value, unit);
  return reading.ok ? reading.value : `${must}, but ${reading.why}; add the unit`;
}

export type ShmooOptionsRead = z.output<typeof shmooOptions>;

/** An axis of a plan, SI. */
export type AxisOptions = {
  readonly key: string;
  readonly from: number;
  readonly to: number;
  readonly nominal: number;
};

type AxisFields = 'x' | 'xFrom' | 'xTo' | 'y' | 'yFrom' | 'yTo';

/** Complete: both axes with their ends, and the cycles that go before a read. */
export type ShmooOptions = Omit<ShmooOptionsRead, 'seed' | AxisFields> & {
  readonly x: AxisOptions;
  readonly y: AxisOptions;
  readonly history: number;
};
