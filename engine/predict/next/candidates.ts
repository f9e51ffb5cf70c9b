import { Matrix } from 'ml-matrix';
import { readCore } from '../../core/unknowns/tested-core.ts';
import { applyPatches, type Patch } from '../../base/json-patch.ts';
import { checkDesign } from '../../check/check-design.ts';
import { writeQuantity } from '../../base/format-quantity.ts';
import type { Design } from '../../design/design.ts';
import { wirePath } from '../../mat/winding.ts';
import { readingGroups, type CoreMeasurement } from '../../pack/measuring/measuring-plan.ts';
import { strobeSearch } from '../../strobe/envelope.ts';
import type { Outlook } from '../outlook.ts';
import { shownBy, type Shown } from '../seen-captures.ts';

/** Something that could be measured next. */
export type Candidate =
  | {
      readonly where: 'mat';
      /** Changes of the design under which it is taken. */
      readonly changes: readonly Patch[];
      readonly bit: 0 | 1;
      readonly disturbed: boolean;
      readonly row: number;
      readonly column: number;
      /** A, of X and of Y. */
      readonly x: number;
      readonly y: number;
    }
  | { readonly where: 'lines' }
  | { readonly where: 'jig'; readonly key: CoreMeasurement['key'] };

/** Parts of the design's read currents. */
const DRIVES = [0.9, 1, 1.1] as const;

/** Captures of the mat at hand, the line currents themselves, and what may be read off one core. */
export function candidatesFor({ told }: Outlook): Candidate[] {
  const bench = checkDesign(told.design);
  const { order } = wirePath(bench);
  const { columns } = bench.mat;
  const own = bench.selected.row * columns + bench.selected.column;
  const far = [order[0]!, order[order.length - 1]!].find((index) => index !== own) ?? own;
  const mat = (bit: 0 | 1, disturbed: boolean, part: number, index = own): Candidate => {
    const [row, column] = [Math.floor(index / columns), index % columns];
    const [x, y] = [bench.drive.x.readAmplitude * part, bench.drive.y.readAmplitude * part];
    return {
      where: 'mat',
      changes: [
        { path: '/selected', value: { row, column, bit } },
        { path: '/initialState', value: disturbed ? 'disturbed' : 'undisturbed' },
        { path: '/drive/x/readAmplitude', value: writeQuantity(x, 'A') },
        { path: '/drive/y/readAmplitude', value: writeQuantity(y, 'A') },
      ],
      bit,
      disturbed,
      row,
      column,
      x,
      y,
    };
  };
  return [
    ...DRIVES.map((part) => mat(1, false, part)),
    ...DRIVES.map((part) => mat(0, true, part)),
    mat(0, false, 1),
    ...(far === own ? [] : [mat(1, false, 1, far), mat(0, true, 1, far)]),
    { where: 'lines' },
    ...readingGroups(bench.core.test, 1e-7).map(([key]): Candidate => ({ where: 'jig', key })),
  ];
}

/** V and samples of a capture as instruments take it, where none is at hand to tell. */
const USUAL = { noise: 1e-3, samples: 250 } as const;

/** What it would show of what is open; undefined where the design gives nothing there. */
export function shownOf(outlook: Outlook, candidate: Candidate): Shown | undefined {
  switch (candidate.where) {
    case 'mat':
      return onMat(outlook, candidate);
    case 'lines':
      return ofLines(outlook);
    case 'jig':
      return onJig(outlook, candidate.key);
  }
}

function onMat(
  { told, directions, short, runs, simulate }: Outlook,
  { changes }: Extract<Candidate, { where: 'mat' }>,
): Shown | undefined {
  const design = checkDesign(applyPatches(told.design, changes));
  const { noise, samples } = told.captures[0] ?? USUAL;
  const look = { observed: 'sense', from: 0, until: strobeSearch(design).end, noise, samples } as const;
  return shownBy(design, directions, look, short, { simulate, onRun: runs.step });
}

/** Relative error of a current or a time read off an instrument, and the part that all readings of one sitting share (our own judgement). */
const READ = 0.02;
/** V, s, Wb: nothing less is told from nothing on a bench. */
const LEAST = { V: 0.2e-3, s: 1e-9, Wb: 20e-12 } as const;

const LINES = [
  ({ drive }: Design) => drive.x.rise,
  ({ drive }: Design) => drive.y.rise,
  ({ drive }: Design) => drive.x.readAmplitude,
  ({ drive }: Design) => drive.y.readAmplitude,
];

/** Rise and height of the currents of X and Y, on a resistor in each line. */
function ofLines({ design, directions }: Outlook): Shown {
  const rows = LINES.map((of) =>
    directions.map(({ low, high, at }) =>
      high > low ? Math.log(of(at(design, high)) / of(at(design, low))) / (high - low) : 0,
    ),
  );
  return { slopes: new Matrix(rows), errors: Matrix.eye(rows.length).mul(READ ** 2) };
}

/** Figures of one core that are read in one sitting. */
function onJig({ design, directions, short }: Outlook, key: CoreMeasurement['key']): Shown | undefined {
  const { parameters, test } = design.core;
  const groups = readingGroups(test, readCore(parameters, test).switchingTime);
  const readings = groups
    .find(([name]) => name === key)![1]
    .filter(({ of }) => Number.isFinite(of(parameters)));
  const told = readings.map(({ of }) => of(parameters));
  const rows = readings.map(({ of }, i) =>
    directions.map(({ kind, low, high, at }) => {
      if (kind === 'assumed' || kind === 'drive' || !(high > low)) return 0;
      const [under, over] = [low, high].map((z) => of(at(design, z).core.parameters));
      const slope = (over! - under!) / (high - low);
      return Number.isFinite(slope) && Number.isFinite(told[i]!) ? slope : 0;
    }),
  );
  const errors = Matrix.zeros(rows.length, rows.length);
  readings.forEach(({ unit }, i) =>
    readings.forEach((other, k) => {
      const common = unit === other.unit ? READ ** 2 * told[i]! * told[k]! : 0;
      const own = i === k ? (Math.max(short.share, READ) * told[i]!) ** 2 + LEAST[unit] ** 2 : 0;
      errors.set(i, k, common + own);
    }),
  );
  return scaled(
    { slopes: new Matrix(rows), errors },
    readings.map(({ unit }) => LEAST[unit]),
  );
}

/** In units in which all rows are of like size: volts beside webers leave no matrix that can be inverted. */
function scaled({ slopes, errors }: Shown, units: readonly number[]): Shown {
  const by = Matrix.diag(units.map((unit) => 1 / unit));
  return { slopes: by.mmul(slopes), errors: by.mmul(errors).mmul(by) };
}
