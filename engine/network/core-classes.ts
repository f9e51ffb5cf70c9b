import { disturbedState } from '../core/disturb.ts';
import { fluxOf, scaleState, stateAt, type CoreFlux } from '../core/flux-of-cores.ts';
import { atTemperature, decaySwing, ringFactors, saturationFlux } from '../core/model.ts';
import { restState, settleUnder, type CoreState } from '../core/state.ts';
import type { CoreException, CoreParameters, Cycle, Design } from '../design/design.ts';
import { halfReads } from '../drive/at-temperature.ts';
import { absentCores } from '../mat/populated.ts';
import { eachSection, PLACES, type Sections } from './sections.ts';

/** Multipliers of each core's parameters, row-major, one per core. */
export interface CoreSpread {
  readonly threshold: Float64Array;
  readonly flux: Float64Array;
  readonly elastic: Float64Array;
}

/** Which cause a core's answer belongs to in the observed cycle. */
export const SELECTED = 0;
export const HALF_SELECTED = 1;
export const UNSELECTED = 2;

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
  /** SELECTED, HALF_SELECTED or UNSELECTED in the observed cycle. */
  readonly role: Uint8Array;
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
  /** Class of each part of each core of this mat (Sections.places), row-major; -1: none. */
  readonly ofPart: Int32Array;
}

/**
 * Groups the cores of a mat for a given programme and stored bits.
 * @param stacked add the cores of the other mats in series on the driven lines
 * @param initial state of each core of this mat, where it is not that of its bit
 */
export function groupCores(
  design: Design,
  sections: Sections,
  bits: Uint8Array,
  polarity: Int8Array,
  spread: CoreSpread | undefined,
  stacked: boolean,
  initial?: CoreFlux,
): CoreClasses {
  const { rows, columns } = design.mat;
  const observed = design.programme.at(-1)!;
  const usedRows = new Set(design.programme.filter((c) => c.lines !== 'y').map((c) => c.row));
  const usedColumns = new Set(design.programme.filter((c) => c.lines !== 'x').map((c) => c.column));
  const exceptions = new Map(design.exceptions.map((e) => [e.row * columns + e.column, e]));
  const addressed = observed.row * columns + observed.column;
  const absent = absentCores(design);

  const members = new Map<string, number>();
  const found: { index: number; section: number; count: number; mat: number; place: number }[] = [];
  const add = (key: string, index: number, section: number, count: number, kind: number): number => {
    let k = members.get(key);
    if (k === undefined) {
      k = found.length;
      members.set(key, k);
      found.push({ index, section, count: 0, mat: kind, place: k });
    }
    found[k]!.count += count;
    return k;
  };
  const ofPart = new Int32Array(PLACES * rows * columns).fill(-1);
  for (let index = 0; index < rows * columns; index++) {
    const e = exceptions.get(index);
    if (absent.has(index)) continue;
    const r = Math.floor(index / columns);
    const c = index % columns;
    const alike =
      spread !== undefined || initial !== undefined || e !== undefined || index === addressed
        ? `#${index}`
        : `${polarity[index]} ${usedRows.has(r) ? r : -1} ${usedColumns.has(c) ? c : -1} ${bits[index]}`;
    // Where every core differs, splitting each between two sections would double the work for little.
    if (spread !== undefined || sections.ofCore[index]! < 0) {
      const section = sections.ofCore[index]! < 0 ? sections.count : sections.ofCore[index]!;
      ofPart[index * PLACES] = add(`${section} ${alike}`, index, section, 1, THIS_MAT);
    } else
      eachSection(sections, index, (section, share, part) => {
        ofPart[index * PLACES + part] = add(`${section} ${alike}`, index, section, share, THIS_MAT);
      });
  }

  if (stacked) addOtherMats(design, sections.count, bits, usedRows, usedColumns, addressed, add);

  const p = atTemperature(design.core.parameters, design.temperature);
  const restOf = restsByThreshold(design, p);
  // Runs of one role and section lie side by side (core-stepper.ts sums run by run).
  const roleIn = (index: number, kind: number): number =>
    kind === THIS_MAT ? roleOf(observed, Math.floor(index / columns), index % columns) : UNSELECTED;
  found.sort((a, b) => roleIn(a.index, a.mat) - roleIn(b.index, b.mat) || a.section - b.section);
  const sorted = new Int32Array(found.length);
  found.forEach((f, k) => (sorted[f.place] = k));
  const placed = (k: number): number => (k < 0 ? -1 : sorted[k]!);
  const first = found.map((f) => f.index);
  const mat = found.map((f) => f.mat);
  const size = first.length;
  const heldBit = (index: number, k: number): number =>
    mat[k] === THIS_MAT || index !== addressed ? bits[index]! : mat[k] === OTHER_ONE ? 1 : 0;
  const fill = (f: (index: number, k: number) => number): Float64Array =>
    Float64Array.from(first, (index, k) => f(index, k));
  // Spread and odd cores are those of this mat; the other mats in series are as the design's core is.
  const odd = (i: number, k: number): CoreException | undefined =>
    mat[k] === THIS_MAT ? exceptions.get(i) : undefined;
  const strayed = (of: 'threshold' | 'flux' | 'elastic', i: number, k: number): number =>
    mat[k] === THIS_MAT ? (spread?.[of][i] ?? 1) : 1;
  const thresholdFactor = fill((i, k) => strayed('threshold', i, k) * (odd(i, k)?.thresholdFactor ?? 1));
  const fluxFactor = fill((i, k) => strayed('flux', i, k) * (odd(i, k)?.fluxFactor ?? 1));
  const elasticFactor = fill((i, k) => strayed('elastic', i, k) * (odd(i, k)?.elasticFactor ?? 1));
  const phiS = saturationFlux(p);
  const a = (p.elasticKnee + p.elasticSaturated) / 2;
  const b = (p.elasticKnee - p.elasticSaturated) / 2;
  const atRest = (i: number, k: number): CoreState => {
    const rest = restOf(thresholdFactor[k]!);
    return settleUnder(p, heldBit(i, k) ? rest.one : rest.zero, (odd(i, k)?.bias ?? 0) / thresholdFactor[k]!);
  };
  const factors = ringFactors(p);
  const before = (i: number, k: number): CoreState =>
    initial !== undefined && mat[k] === THIS_MAT
      ? stateAt(initial, i)
      : scaleState(atRest(i, k), fluxFactor[k]!);
  return {
    size,
    count: Float64Array.from(found, (f) => f.count),
    section: Int32Array.from(found, (f) => f.section),
    polarity: fill((i) => polarity[i]!),
    row: Int32Array.from(first, (i) =>
      usedRows.has(Math.floor(i / columns)) ? Math.floor(i / columns) : -1,
    ),
    column: Int32Array.from(first, (i) => (usedColumns.has(i % columns) ? i % columns : -1)),
    role: Uint8Array.from(first, (i, k) => roleIn(i, mat[k]!)),
    otherMat: Uint8Array.from(mat, (m) => (m === THIS_MAT ? 0 : 1)),
    keepsZero: Uint8Array.from(mat, (m) => (m === OTHER_ZERO ? 1 : 0)),
    bias: fill((i, k) => odd(i, k)?.bias ?? 0),
    phiR: fill((_, k) => p.remanentFlux * fluxFactor[k]!),
    phiS: fill((_, k) => phiS * fluxFactor[k]!),
    coercive: fill((_, k) => p.coerciveDrive * thresholdFactor[k]!),
    kneeWidth: fill(() => p.staticKneeWidth),
    threshold: fill((_, k) => p.dynamicThreshold * thresholdFactor[k]!),
    softWidth: fill(() => p.dynamicKneeWidth),
    rho: fill((_, k) => p.switchingResistance * fluxFactor[k]!),
    elasticA: fill((_, k) => a * elasticFactor[k]!),
    elasticB: fill((_, k) => (b * elasticFactor[k]!) / (p.remanentFlux * fluxFactor[k]!)),
    bend: fill(() => p.elasticBend),
    psiM: fill((_, k) => decaySwing(p) * fluxFactor[k]!),
    decayCharge: fill(() => p.decayCharge),
    decayThreshold: fill((_, k) => p.decayThreshold * thresholdFactor[k]!),
    nearness: Float64Array.from(factors, (f) => 1 / f),
    initial: fluxOf(first.map(before), factors.length),
    selected: found.findIndex((f) => f.index === addressed && f.mat === THIS_MAT),
    ofPart: ofPart.map(placed),
  };
}

const THIS_MAT = 0;
const OTHER_ONE = 1;
const OTHER_ZERO = 2;

/** Other mats hold this mat's pattern but for the addressed core: `otherOnes` of them a ONE, the rest a ZERO. */
function addOtherMats(
  design: Design,
  nowhere: number,
  bits: Uint8Array,
  rows: Set<number>,
  columns: Set<number>,
  addressed: number,
  add: (key: string, index: number, section: number, count: number, kind: number) => number,
): void {
  // Other mats are populated as this one is; missing cores are its own.
  const absent = absentCores({ mat: design.mat, exceptions: [] });
  const ones = Math.min(design.mat.otherOnes, design.mat.mats - 1);
  for (const [kind, mats] of [
    [OTHER_ONE, ones],
    [OTHER_ZERO, design.mat.mats - 1 - ones],
  ] as const) {
    if (mats <= 0) continue;
    for (let index = 0; index < bits.length; index++) {
      const r = Math.floor(index / design.mat.columns);
      const c = index % design.mat.columns;
      if (absent.has(index) || (!rows.has(r) && !columns.has(c))) continue;
      const lines = `${rows.has(r) ? r : -1} ${columns.has(c) ? c : -1}`;
      add(
        `other ${kind} ${lines} ${index === addressed ? 'addressed' : bits[index]}`,
        index,
        nowhere,
        mats,
        kind,
      );
    }
  }
}

function roleOf(cycle: Cycle, r: number, c: number): number {
  const lines =
    (cycle.lines !== 'y' && r === cycle.row ? 1 : 0) + (cycle.lines !== 'x' && c === cycle.column ? 1 : 0);
  return lines === 2 ? SELECTED : lines === 1 ? HALF_SELECTED : UNSELECTED;
}

interface Rest {
  readonly one: CoreState;
  readonly zero: CoreState;
}

/** How a core of each threshold rests, as a multiple of the design's: a soft one has been disturbed further. */
function restsByThreshold(design: Design, p: CoreParameters): (thresholdFactor: number) => Rest {
  const known = new Map<number, Rest>();
  return (factor) => {
    const found =
      known.get(factor) ??
      restingStates(design, {
        ...p,
        coerciveDrive: p.coerciveDrive * factor,
        dynamicThreshold: p.dynamicThreshold * factor,
        decayThreshold: p.decayThreshold * factor,
      });
    known.set(factor, found);
    return found;
  };
}

function restingStates(design: Design, p: CoreParameters): Rest {
  if (design.initialState === 'disturbed') return disturbedState(p, halfReads(design));
  return { one: restState(p, 1), zero: restState(p, 0) };
}
