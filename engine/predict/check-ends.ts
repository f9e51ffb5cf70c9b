import { inverse, Matrix } from 'ml-matrix';
import { keepReadings, turnedBy } from '../core/unknowns/keep-readings.ts';
import { readCore } from '../core/unknowns/tested-core.ts';
import type { Design } from '../design/design.ts';
import { afterSeeing, along } from '../numerics/gaussian.ts';
import type { Direction } from './direction.ts';
import { REACH } from './knowledge.ts';
import { decidingSide } from './margin-parts.ts';
import type { Outlook } from './outlook.ts';
import type { Prediction } from './prediction.ts';
import { together } from './seen-captures.ts';
import { FIGURES, type FigureName, type Given } from './standing.ts';

/** Full runs at the ends of the intervals, and how far the straight lines were off there. */
export interface CheckedEnds {
  readonly given: readonly Given[];
  readonly told: Prediction['straight'];
}

/** Designs that `checkEnds` runs at most. */
export const ENDS_CHECKED = 4;

/** Straight lines hold where a full run at an end is off them by no more than this part of half the interval. */
const HOLDS = 0.3;

/**
 * Runs the design at both ends of the interval of the peak and of the side that decides the margin, each where it is
 * likeliest to be reached, all that is unknown moved together.
 */
export function checkEnds(outlook: Outlook): CheckedEnds {
  const peak = endsOf(outlook, 'peak');
  const margin = endsOf(outlook, decidingSide(outlook));
  const given = [...peak.given, ...margin.given];
  const told = {
    runs: given.length,
    margin: margin.off,
    peak: peak.off,
    holds: Math.max(margin.off, peak.off) <= HOLDS,
  };
  return { given, told };
}

function endsOf(outlook: Outlook, name: FigureName): { given: Given[]; off: number } {
  const { known, slopes, directions, base, design } = outlook;
  const own = slopes.map((s) => s[FIGURES.indexOf(name)]!);
  const { deviation } = along(known, own);
  if (!(deviation > 0)) return { given: [], off: 0 };
  const toward = known.covariance.mmul(Matrix.columnVector(own)).to1DArray();
  const given: Given[] = [];
  let off = 0;
  for (const sign of [-1, 1]) {
    outlook.runs.step();
    const at = (part: number): number[] =>
      directions.map((direction, i) =>
        held(direction, known.mean[i]! + (sign * part * REACH * toward[i]!) / deviation),
      );
    const end = farthest(outlook, at);
    const found = end && outlook.give(end.move(design));
    if (found === undefined) {
      // No straight line is trusted of which not even a part leads to something that is possible.
      off = Math.max(off, 1);
      continue;
    }
    given.push(found);
    const straight = base.figures[name] + own.reduce((sum, s, i) => sum + s * end!.z[i]!, 0);
    off = Math.max(off, Math.abs(found.figures[name] - straight) / (end!.part * REACH * deviation));
  }
  return { given, off };
}

/** Parts of the way to an end that are tried until one agrees with what was measured. */
const PARTS = [1, 0.5, 0.25];

interface End {
  readonly part: number;
  readonly z: readonly number[];
  readonly move: Move;
}

/** The farthest point toward an end at which the captures are still as they were measured: beyond it nothing is possible. */
function farthest(outlook: Outlook, at: (part: number) => number[]): End | undefined {
  for (const part of PARTS) {
    const z = at(part);
    const move = heldToMeasured(outlook, z);
    if (move !== undefined) return { part, z, move };
  }
  return undefined;
}

type Move = (design: Design) => Design;

const held = ({ low, high, farthest = 0 }: Direction, z: number): number =>
  Math.min(Math.max(high, farthest), Math.max(Math.min(low, -farthest), z));

const moveAlong =
  ({ directions }: Pick<Outlook, 'directions'>, z: readonly number[]): Move =>
  (design) =>
    directions.reduce((from, { at }, i) => (z[i] === 0 ? from : at(from, z[i]!)), design);

/** Rounds in which what was measured is brought back. */
const ROUNDS = 4;
/** How often `checkEnds` looks at each capture at most. */
export const LOOKS_AT_ENDS = ENDS_CHECKED * PARTS.length * ROUNDS;

/** Mean square of what captures are missed by, over what they may be off, up to which they agree. */
const AGREES = 1;

/**
 * Far from the middle straight lines leave what was measured. The same move, with the least change of all that is open
 * that brings the captures back to where the straight lines have them; without captures the readings of the core. Undefined
 * where nothing brings them back.
 */
function heldToMeasured(outlook: Outlook, z: readonly number[]): Move | undefined {
  const { seen, before, directions } = outlook;
  if (seen.length === 0) return heldToReadings(outlook, z);
  const { slopes, errors } = together(seen, directions.length);
  const centred = { ...before, mean: before.mean.map(() => 0) };
  const base = seen.flatMap((each) => each.base);
  const straight = slopes.mmul(Matrix.columnVector([...z])).to1DArray();
  const weights = inverse(errors);
  let at = z;
  let best: { readonly at: readonly number[]; readonly missed: number } | undefined;
  for (let round = 0; round < ROUNDS; round++) {
    const looks = seen.map(({ look }) => look(moveAlong(outlook, at)));
    if (looks.some((each) => each === undefined)) break;
    const back = looks.flatMap((each) => [...each!]).map((v, i) => base[i]! + straight[i]! - v);
    const column = Matrix.columnVector(back);
    const missed = column.transpose().mmul(weights).mmul(column).get(0, 0) / back.length;
    if (best === undefined || missed < best.missed) best = { at, missed };
    const { mean } = afterSeeing(centred, slopes, errors, back);
    at = at.map((v, i) => held(directions[i]!, v + mean[i]!));
  }
  return best !== undefined && best.missed <= AGREES ? moveAlong(outlook, best.at) : undefined;
}

/** Parameters that follow the readings follow them from where the others have been moved to. */
function heldToReadings(outlook: Outlook, z: readonly number[]): Move {
  const { test, range, parameters } = outlook.design.core;
  const turned = turnedBy(test, (name) => range[name].from === 'given');
  const factor = (what: string): number =>
    outlook.directions.reduce(
      (all, { name, factor: per }, i) => (name === what && per !== undefined ? all * (1 + per * z[i]!) : all),
      1,
    );
  const own = readCore(parameters, test);
  const [volts, time] = [factor('voltage of the readings'), factor('time of the readings')];
  const wanted = {
    peak: own.peak * volts,
    peakTime: own.peakTime * time,
    switchingTime: own.switchingTime * time,
    second: own.second * volts,
  };
  return (design) => {
    const away = outlook.directions.map(({ kind }) => kind === 'drive');
    const only = (drive: boolean): Move =>
      moveAlong(
        outlook,
        z.map((v, i) => (away[i] === drive ? v : 0)),
      );
    const moved = only(false)(design);
    const kept = turned.length === 0 ? undefined : keepReadings(moved.core.parameters, test, wanted, turned);
    // What strays away from the drives of the test is no reading: it comes on top.
    return only(true)(kept === undefined ? moved : { ...moved, core: { ...moved.core, parameters: kept } });
  };
}
