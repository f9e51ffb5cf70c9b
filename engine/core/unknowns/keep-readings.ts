import { Matrix, solve } from 'ml-matrix';
import { readCore, type TestReadings } from './tested-core.ts';
import type { CoreParameters, CoreProperty, CoreTest } from '../../design/core.ts';

/**
 * Parameters that the readings fix once the others are chosen, and by which of them: each is turned until its reading
 * is right. All change their reading monotonically; logarithms keep them positive (squareness by its distance to 1).
 */
const TURNED = {
  switchingResistance: 'peak',
  squareness: 'peakTime',
  remanentFlux: 'switchingTime',
  dynamicThreshold: 'second',
} as const satisfies Partial<Record<CoreProperty, keyof TestReadings>>;
export type TurnedProperty = keyof typeof TURNED;

/** Which of them are free to follow the readings: not those that the design gives. */
export function turnedBy(test: CoreTest, fixed: (name: CoreProperty) => boolean): readonly TurnedProperty[] {
  const names = Object.keys(TURNED) as TurnedProperty[];
  return names.filter(
    (name) => !fixed(name) && (TURNED[name] !== 'second' || test.secondDrive !== undefined),
  );
}

const TURNS = 25;
const CLOSE = 1e-4;
/** Greatest change of a logarithm in one turn. */
const STRIDE = 0.4;

/** The core with these parameters turned until it answers as `wanted`; undefined where none does. */
export function keepReadings(
  start: CoreParameters,
  test: CoreTest,
  wanted: TestReadings,
  turned: readonly TurnedProperty[],
): CoreParameters | undefined {
  if (turned.length === 0) return start;
  let x = turned.map((name) => toTurn(name, start[name]));
  const coreAt = (at: readonly number[]): CoreParameters => ({
    ...start,
    ...Object.fromEntries(turned.map((name, i) => [name, fromTurn(name, at[i]!)])),
  });
  const missed = (at: readonly number[]): number[] => {
    const read = readCore(coreAt(at), test);
    return turned.map((name) => Math.log(read[TURNED[name]] / wanted[TURNED[name]]));
  };
  let miss = missed(x);
  let slopes: Matrix | undefined;
  let before = Infinity;
  for (let turn = 0; turn < TURNS; turn++) {
    const worst = Math.max(...miss.map(Math.abs));
    if (!Number.isFinite(worst)) return undefined;
    if (worst < CLOSE) return coreAt(x);
    // The slopes of an earlier turn serve as long as they bring it on.
    if (slopes === undefined || worst > 0.3 * before) slopes = slopesAt(missed, x, miss);
    before = worst;
    const step = stepBy(slopes, miss);
    if (step === undefined) return undefined;
    const longest = Math.max(...step.map(Math.abs));
    const share = longest > STRIDE ? STRIDE / longest : 1;
    x = x.map((v, i) => v - share * step[i]!);
    miss = missed(x);
  }
  return undefined;
}

function slopesAt(
  missed: (at: readonly number[]) => number[],
  x: readonly number[],
  miss: readonly number[],
): Matrix {
  const columns = x.map((_, i) => {
    const beside = missed(x.map((v, j) => (i === j ? v + 1e-3 : v)));
    return beside.map((m, row) => (m - miss[row]!) / 1e-3);
  });
  return new Matrix(columns).transpose();
}

/** What to take off; undefined where the readings do not tell the parameters apart. */
function stepBy(slopes: Matrix, miss: readonly number[]): number[] | undefined {
  if (!slopes.to1DArray().every(Number.isFinite)) return undefined;
  try {
    return solve(slopes, Matrix.columnVector(miss)).to1DArray();
  } catch {
    return undefined;
  }
}

const toTurn = (name: TurnedProperty, value: number): number =>
  Math.log(name === 'squareness' ? 1 / value - 1 : value);
const fromTurn = (name: TurnedProperty, turn: number): number =>
  name === 'squareness' ? 1 / (1 + Math.exp(turn)) : Math.exp(turn);
