import { Matrix, solve } from 'ml-matrix';
import type { Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { wirePath } from '../../mat/winding.ts';
import type { CoreSpread } from '../../network/class-members.ts';
import { randomStream } from '../../numerics/random.ts';
import type { StudyTools } from '../shared/shape.ts';
import { MOST_DRAWS, STREAMS, nominalShare, bellsAtStrobe } from './draw.ts';
import { makeBuild, readMargin, type Before, type Build, type Place, type Reads } from './read.ts';

/**
 * Do all bits of a stack pass? Reading each in full would take thousands of runs a draw. A linear estimate of a bit's
 * margin from its own core, the cores on its lines and its place on the wire finds the bits with the least; those are
 * read in full, from the least up, until the next is clear of the limit by more than the estimate is off.
 */

/** Weights of `featuresOf`, and what the estimate missed reads by that it was not fitted to, V rms. */
export interface Rule {
  readonly weights: readonly number[];
  readonly error: number;
}

export interface StackRules {
  readonly one: Rule;
  readonly zero: Rule;
}

/** Nominal builds that the rules are fitted to, and further ones that they are tested on. */
const FITTED = 36;
const HELD_BACK = 12;
export const RULE_RUNS = 2 * (FITTED + HELD_BACK);
/** Draws of their own, beyond all that a study may ask for. */
const FIRST_DRAW = MOST_DRAWS;
/** Full reads of either bit after which a draw is left as doubtful. */
export const MOST_READS = 4;
/** The next bit must be clear of the limit by so many rms errors of the rule, and so many of the greatest miss in this draw. */
const CLEAR_OF_ERROR = 3;
const CLEAR_OF_MISS = 2;

type Side = 'one' | 'zero';
const SIDES: readonly Side[] = ['one', 'zero'];
type How = { readonly reads: Reads; readonly before: Before };

/** @param strobe s, where the nominal design is read */
export function fitStackRules(
  raw: Json,
  nominal: Design,
  how: How,
  { strobe, seed }: { readonly strobe: number; readonly seed: number },
  tools: StudyTools,
): StackRules {
  const { rows, columns } = nominal.mat;
  const builds = Array.from({ length: FITTED + HELD_BACK }, (_, i) => {
    const index = FIRST_DRAW + i;
    const core = Math.floor(randomStream(seed, index * STREAMS)() * rows * columns);
    const build = makeBuild(raw, nominal, { shared: nominalShare, seed, index }, strobe, tools);
    return { build, core };
  });
  const fit = (side: Side): Rule => {
    const featuresIn = makeFeatures(builds[0]!.build.design, how, side);
    const rowsOf = builds.map(({ build, core }) => Array.from(featuresIn(build.cores(0))(core)));
    const margins = builds.map(({ build, core }) =>
      readMargin(build, how, { mat: 0, core }, side === 'one' ? 1 : 0, tools),
    );
    const weights = leastSquares(rowsOf.slice(0, FITTED), margins.slice(0, FITTED));
    const miss = rowsOf.slice(FITTED).map((row, i) => margins[FITTED + i]! - dot(weights, row));
    return { weights, error: Math.sqrt(dot(miss, miss) / miss.length) };
  };
  return { one: fit('one'), zero: fit('zero') };
}

export interface StackVerdict {
  readonly verdict: 'passes' | 'fails' | 'doubtful';
  /** Least margin that was read in full, V. */
  readonly least: number;
  readonly reads: number;
}

/** @param known margins of the bit at `at`, read before, V; @param mats so many of the stack count, from the first on */
export function judgeStack(
  build: Build,
  how: How,
  rules: StackRules,
  at: Place,
  known: Readonly<Record<Side, number>>,
  tools: StudyTools,
  mats = build.design.mat.mats,
): StackVerdict {
  let least = Math.min(known.one, known.zero);
  let reads = 0;
  if (least < 0) return { verdict: 'fails', least, reads };
  for (const side of SIDES) {
    const { weights, error } = rules[side];
    const { lowest, own } = lowestOf(build, how, weights, side, at, mats);
    // What a build shares moves all its bits and stretches what sets them apart: the bit that was read before says
    // how far, the weakest one how much.
    const corrected = (estimate: number): number => known[side] + stretch * (estimate - own);
    let stretch = 1;
    let miss = 0;
    for (const [k, { mat, core, estimate }] of lowest.entries()) {
      const guard = Math.max(CLEAR_OF_ERROR * error, CLEAR_OF_MISS * miss);
      if (k > 0 && corrected(estimate) > guard) break;
      if (k === MOST_READS) return { verdict: 'doubtful', least, reads };
      const margin = readMargin(build, how, { mat, core }, side === 'one' ? 1 : 0, tools);
      reads++;
      least = Math.min(least, margin);
      if (margin < 0) return { verdict: 'fails', least, reads };
      const missed = Math.abs(margin - corrected(estimate));
      // The first read sets the stretch; until a second one tests it, what it missed by without counts.
      miss = k === 1 ? missed : Math.max(miss, missed);
      if (k === 0 && own - estimate > CLEAR_OF_ERROR * error)
        stretch = Math.max(0, (margin - known[side]) / (estimate - own));
    }
  }
  return { verdict: 'passes', least, reads };
}

interface Candidate extends Place {
  /** V, before the offset of the build. */
  readonly estimate: number;
}

/** The bits of the stack with the least estimates, least first, one more than may be read; and the estimate at `at`. */
function lowestOf(
  build: Build,
  how: How,
  weights: readonly number[],
  side: Side,
  at: Place,
  mats: number,
): { readonly lowest: readonly Candidate[]; readonly own: number } {
  const { rows, columns } = build.design.mat;
  const featuresIn = makeFeatures(build.design, how, side);
  let own = 0;
  let lowest: Candidate[] = [];
  for (let mat = 0; mat < mats; mat++) {
    const features = featuresIn(build.cores(mat));
    for (let core = 0; core < rows * columns; core++) {
      const estimate = dot(weights, features(core));
      if (mat === at.mat && core === at.core) own = estimate;
      else if (lowest.length <= MOST_READS || estimate < lowest[MOST_READS]!.estimate)
        lowest = [...lowest, { mat, core, estimate }]
          .sort((a, b) => a.estimate - b.estimate)
          .slice(0, MOST_READS + 1);
    }
  }
  return { lowest, own };
}

/**
 * What a bit's margin depends on, for a linear rule: its own core (for a ONE by its bell at the strobe), the cores on
 * its lines by polarity relative to it (what they switch at the strobe if they hold ONEs, and their elastic parts),
 * and its place on the wire. The bells are closed forms in the build's own drive and temperature, so that the rule
 * holds for builds that are not nominal.
 */
function makeFeatures(
  design: Design,
  { reads }: How,
  side: Side,
): (spread: CoreSpread) => (core: number) => Float64Array {
  const { rows, columns } = design.mat;
  const { order, polarity } = wirePath(design);
  const place = new Float64Array(rows * columns).fill(0.5);
  order.forEach((index, position) => (place[index] = (position + 0.5) / order.length));
  const bells = bellsAtStrobe(design, reads[side].state);
  // One array for all: a stack has thousands of bits, a study thousands of stacks.
  const row = new Float64Array(FEATURES);
  return ({ threshold, flux, elastic }) => {
    const switching = lineSums(
      threshold.map((factor, i) => flux[i]! * bells.half(factor)),
      polarity,
      rows,
      columns,
    );
    const yielding = lineSums(elastic, polarity, rows, columns);
    return (core) => {
      const sign = polarity[core]!;
      const at = place[core]!;
      const own = threshold[core]!;
      row[0] = 1;
      row[1] = side === 'one' ? flux[core]! * bells.full(own) : (own - 1) ** 2;
      row[2] = own - 1;
      row[3] = flux[core]! - 1;
      row[4] = elastic[core]! - 1;
      row[5] = switching(core, sign);
      row[6] = switching(core, -sign);
      row[7] = yielding(core, sign);
      row[8] = yielding(core, -sign);
      row[9] = at;
      row[10] = at * at;
      row[11] = sign;
      row[12] = sign * at;
      return row;
    };
  };
}

const FEATURES = 13;

/** Sum of values over the other cores on a core's lines that have the given polarity. */
function lineSums(
  values: Float64Array,
  polarity: ArrayLike<number>,
  rows: number,
  columns: number,
): (core: number, sign: number) => number {
  const [inRow, inColumn] = [new Float64Array(2 * rows), new Float64Array(2 * columns)];
  const half = (sign: number): 0 | 1 => (sign > 0 ? 1 : 0);
  values.forEach((value, i) => {
    const c = i % columns;
    inRow[2 * ((i - c) / columns) + half(polarity[i]!)]! += value;
    inColumn[2 * c + half(polarity[i]!)]! += value;
  });
  return (core, sign) => {
    const c = core % columns;
    const both = inRow[2 * ((core - c) / columns) + half(sign)]! + inColumn[2 * c + half(sign)]!;
    return both - (half(polarity[core]!) === half(sign) ? 2 * values[core]! : 0);
  };
}

/** Weights by least squares; what never changes, or changes together, shares its weight. */
function leastSquares(features: readonly (readonly number[])[], values: readonly number[]): number[] {
  const sizes = features[0]!.map((_, k) => Math.max(...features.map((row) => Math.abs(row[k]!))) || 1);
  const a = new Matrix(features.map((row) => row.map((value, k) => value / sizes[k]!)));
  const normal = a.transpose().mmul(a);
  for (let k = 0; k < sizes.length; k++) normal.set(k, k, normal.get(k, k) + RIDGE * features.length);
  const weights = solve(normal, a.transpose().mmul(Matrix.columnVector([...values]))).to1DArray();
  return weights.map((weight, k) => weight / sizes[k]!);
}

/** Small against what any feature that matters explains. */
const RIDGE = 1e-7;

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
