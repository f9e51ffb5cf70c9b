import type { CoreFlux } from '../core/flux-of-cores.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { fill, filled } from '../numerics/filled.ts';
import {
  findMembers,
  linesOf,
  OTHER_ZERO,
  THIS_MAT,
  type CoreSpread,
  type MatCores,
  type Member,
} from './class-members.ts';
import { parametersOfClasses } from './class-parameters.ts';
import type { Sections } from './sections.ts';

/** Which cause a core's answer belongs to in a cycle. */
export const SELECTED = 0;
export const HALF_SELECTED = 1;
export const UNSELECTED = 2;
export const ROLES = 3;

/**
 * Cores that have section, polarity, drive lines, parameters and state in common are one class with a count.
 * Structure of arrays, one entry a class. Parameters are at the design's temperature.
 */
export interface CoreClasses {
  readonly size: number;
  /** How many cores the class stands for (fractions where a core counts in two sections). */
  readonly count: Float64Array;
  /** Section of the sense wire; the number of sections for a core that this wire does not thread. */
  readonly section: Int32Array;
  /** s_z, +1 or -1. */
  readonly polarity: Float64Array;
  /** Row and column; -1 where no cycle of the programme drives that line. */
  readonly row: Int32Array;
  readonly column: Int32Array;
  /** 1 for cores of the other mats in series (on driven lines only; they load the drive lines). */
  readonly otherMat: Uint8Array;
  /** 1 for cores of other mats whose addressed core holds a ZERO and whose write is therefore inhibited. */
  readonly keepsZero: Uint8Array;
  /** A, ampere-turns of a magnet. */
  readonly bias: Float64Array;
  readonly phiR: Float64Array;
  readonly phiS: Float64Array;
  readonly coercive: Float64Array;
  readonly kneeWidth: Float64Array;
  readonly threshold: Float64Array;
  readonly softWidth: Float64Array;
  readonly rho: Float64Array;
  /** Elastic a, H, and b / phi_r, H/Wb. */
  readonly elasticA: Float64Array;
  readonly elasticB: Float64Array;
  readonly bend: Float64Array;
  /** Decaying part: swing psi_m (Wb; 0 = off), C_i and threshold F_d. */
  readonly psiM: Float64Array;
  readonly decayCharge: Float64Array;
  readonly decayThreshold: Float64Array;
  /** 1/f_k of the rings of every class (core/model.ts), from the inside out; one where cores switch as one. */
  readonly nearness: Float64Array;
  /** State before the programme. */
  readonly initial: CoreFlux;
  /** Index of the class that holds the addressed core; -1 when that core is missing. */
  readonly selected: number;
  /** Class of each part of each core of this mat (Sections.places), row-major; -1: none. Empty where not asked for. */
  readonly ofPart: Int32Array;
}

/**
 * Groups the cores of a mat for a given programme and stored bits.
 * @param stacked add the cores of the other mats in series on the driven lines
 * @param initial state of each core of this mat, where it is not that of its bit
 * @param watched the class of each part is asked for (`ofPart`, empty else)
 */
export function groupCores(
  design: Design,
  sections: Sections,
  bits: Uint8Array,
  polarity: Int8Array,
  spread: CoreSpread | undefined,
  stacked: boolean,
  initial?: CoreFlux,
  watched = false,
): CoreClasses {
  const mat: MatCores = { design, sections, bits, polarity, spread, initial, ...linesOf(design) };
  const { members, ofPart } = findMembers(mat, stacked, watched);
  // Classes of one role and section in the observed cycle lie side by side (core-stepper.ts sums run by run).
  const ranks = members.map((member) => roleIn(mat, member) * (sections.count + 1) + member.section);
  members.sort((a, b) => ranks[a.place]! - ranks[b.place]!);
  const sorted = new Int32Array(members.length);
  members.forEach((member, k) => (sorted[member.place] = k));
  for (let i = 0; i < ofPart.length; i++) if (ofPart[i]! >= 0) ofPart[i] = sorted[ofPart[i]!]!;
  const { addressed } = mat;
  const places = placesOfClasses(mat, members);
  const parameters = parametersOfClasses(mat, members);
  // Written out: the time loop reads these, and reads what was spread together a good deal slower.
  return {
    size: places.size,
    count: places.count,
    section: places.section,
    polarity: places.polarity,
    row: places.row,
    column: places.column,
    otherMat: places.otherMat,
    keepsZero: places.keepsZero,
    bias: parameters.bias,
    phiR: parameters.phiR,
    phiS: parameters.phiS,
    coercive: parameters.coercive,
    kneeWidth: parameters.kneeWidth,
    threshold: parameters.threshold,
    softWidth: parameters.softWidth,
    rho: parameters.rho,
    elasticA: parameters.elasticA,
    elasticB: parameters.elasticB,
    bend: parameters.bend,
    psiM: parameters.psiM,
    decayCharge: parameters.decayCharge,
    decayThreshold: parameters.decayThreshold,
    nearness: parameters.nearness,
    initial: parameters.initial,
    selected: members.findIndex((f) => f.index === addressed && f.mat === THIS_MAT),
    ofPart,
  };
}

/** Where the cores of each class lie and which lines drive them. */
function placesOfClasses(mat: MatCores, members: readonly Member[]) {
  const { design, polarity, usedRows, usedColumns } = mat;
  const { columns } = design.mat;
  const size = members.length;
  const rowOf = (k: number): number => Math.floor(members[k]!.index / columns);
  const columnOf = (k: number): number => members[k]!.index % columns;
  return {
    size,
    count: filled(size, (k) => members[k]!.count),
    section: fill(new Int32Array(size), (k) => members[k]!.section),
    polarity: filled(size, (k) => polarity[members[k]!.index]!),
    row: fill(new Int32Array(size), (k) => (usedRows.has(rowOf(k)) ? rowOf(k) : -1)),
    column: fill(new Int32Array(size), (k) => (usedColumns.has(columnOf(k)) ? columnOf(k) : -1)),
    otherMat: fill(new Uint8Array(size), (k) => (members[k]!.mat === THIS_MAT ? 0 : 1)),
    keepsZero: fill(new Uint8Array(size), (k) => (members[k]!.mat === OTHER_ZERO ? 1 : 0)),
  };
}

function roleIn({ design }: MatCores, { index, mat }: Member): number {
  if (mat !== THIS_MAT) return UNSELECTED;
  const { columns } = design.mat;
  return roleOf(design.programme.at(-1)!, Math.floor(index / columns), index % columns);
}

/** Role in a cycle of a core of this mat at a row and column; -1: one that no cycle drives. */
export function roleOf(cycle: Cycle, r: number, c: number): number {
  const lines =
    (cycle.lines !== 'y' && r === cycle.row ? 1 : 0) + (cycle.lines !== 'x' && c === cycle.column ? 1 : 0);
  return lines === 2 ? SELECTED : lines === 1 ? HALF_SELECTED : UNSELECTED;
}
