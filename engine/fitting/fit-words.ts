import { formatQuantity } from '../base/format-quantity.ts';
import type { LeastSquaresFit } from '../numerics/levenberg-marquardt.ts';
import { rivalWords } from './align/line-up-words.ts';
import type { LineUp } from './align/line-up.ts';
import type { FittedUnknown, InstrumentFound } from './fit-result.ts';
import { UNKNOWNS } from './unknown-table.ts';

/** A capture as it lies on its prediction after the fit. */
interface Lying {
  readonly label: string;
  /** How good it is. */
  readonly statement: string;
  readonly lineUp: LineUp;
}

/** Part of a combination of length 1 under which an unknown is no part of it. */
const TOLD = 0.2;

/** A fit in sentences: how it ended, what bounds it met, how good it is, and what the captures cannot tell. */
export function describeFit(
  fit: LeastSquaresFit,
  fitted: readonly FittedUnknown[],
  captures: readonly Lying[],
  good: boolean,
): { readonly statements: string[]; readonly undetermined: string[] } {
  const undetermined = fit.undetermined
    .map((u) => ({ ...u, direction: u.direction.slice(0, fitted.length) }))
    .filter((u) => u.direction.some((d) => Math.abs(d) > TOLD))
    .map(({ direction, error, blind }) => {
      const list = direction
        .map((d, i) => ({ name: fitted[i].name, d }))
        .filter(({ d }) => Math.abs(d) > TOLD)
        .sort((a, b) => Math.abs(b.d) - Math.abs(a.d));
      const words = list
        .map(({ name, d }) => `${name} (${d * list[0].d > 0 ? 'up' : 'down'})`)
        .join(' with ');
      return blind
        ? `The captures say nothing about ${words}: no change of it shows.`
        : `The captures tell ${words} to no better than ${Math.round(error * 100)} % of the start.`;
    });
  return { statements: [ending(fit), ...boundsReached(fitted), ...goodness(captures, good)], undetermined };
}

function ending(fit: LeastSquaresFit): string {
  switch (fit.outcome) {
    case 'converged':
      return `Converged after ${fit.iterations} iterations.`;
    case 'stalled':
      return `Stalled after ${fit.iterations} iterations: no step lowers the difference, yet it is not at a minimum; take the values as rough and try another start.`;
    case 'singular':
      return 'Some unknowns cannot be told from these captures; leave them out or add a capture under other conditions.';
    case 'iteration limit':
      return `Not finished after ${fit.iterations} iterations: still moving; allow more of them.`;
    case 'cancelled':
      return 'Cancelled before it ended.';
  }
}

const boundsReached = (fitted: readonly FittedUnknown[]): string[] =>
  fitted
    .filter((u) => u.atBound !== undefined)
    .map(
      (u) =>
        `${u.name} ran to its ${u.atBound} bound, ${boundOf(u)}, and was held there: widen the bound if more is possible, else its start or the model is doubtful.`,
    );

const boundOf = ({ name, bounds: { low, high }, atBound }: FittedUnknown): string =>
  formatQuantity(atBound === 'lower' ? low : high, UNKNOWNS[name].unit, 4);

function goodness(captures: readonly Lying[], good: boolean): string[] {
  const lines = captures.flatMap(({ label, statement, lineUp }) => [
    `${label}: ${statement}`,
    ...(lineUp.rival === undefined ? [] : [`${label}: ${rivalWords(lineUp)}`]),
  ]);
  return good
    ? lines
    : [
        ...lines,
        'More than noise is left: the intervals are widened for it, and the design alone, without what it departs by, misses these captures.',
      ];
}

/** "one: the bandwidth of its instrument is found to be 42 MHz (95 %: 38 MHz to 47 MHz)." */
export function instrumentWords(label: string, { what, value, low, high }: InstrumentFound): string {
  const told = (v: number): string =>
    what === 'gain' ? String(Number(v.toPrecision(3))) : formatQuantity(v, 'Hz', 3);
  const name = what === 'gain' ? 'gain of its probe' : 'bandwidth of its instrument';
  return `${label}: the ${name} is found to be ${told(value)} (95 %: ${told(low)} to ${told(high)}).`;
}
