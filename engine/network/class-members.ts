import type { CoreFlux } from '../core/flux-of-cores.ts';
import type { CoreException } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { absentCores } from '../mat/populated.ts';
import { PLACES } from './core-places.ts';
import type { Sections } from './sections.ts';

/** Multipliers of each core's parameters, row-major, one per core. */
export interface CoreSpread {
  readonly threshold: Float64Array;
  readonly flux: Float64Array;
  readonly elastic: Float64Array;
}

/** Which mat a class is of; an other mat's addressed core may hold a ONE or a ZERO. */
export const THIS_MAT = 0;
export const OTHER_ONE = 1;
export const OTHER_ZERO = 2;

/** The mat whose cores are grouped, and which of its lines the programme drives. */
export interface MatCores {
  readonly design: Design;
  readonly sections: Sections;
  readonly bits: Uint8Array;
  readonly polarity: Int8Array;
  readonly spread: CoreSpread | undefined;
  readonly initial: CoreFlux | undefined;
  readonly usedRows: ReadonlySet<number>;
  readonly usedColumns: ReadonlySet<number>;
  /** Index of the core that the observed cycle addresses. */
  readonly addressed: number;
  /** Cores that are not like the others, by index. */
  readonly exceptions: ReadonlyMap<number, CoreException>;
}

/** Cores that are alike: one of them, and how many. */
export interface Member {
  readonly index: number;
  readonly section: number;
  readonly mat: number;
  /** In the order in which they were found. */
  readonly place: number;
  count: number;
}

/** @param classes of the cores that are alike, by section; -1 where none is known yet. @returns the class */
type AddMember = (classes: Int32Array, index: number, section: number, count: number, kind: number) => number;

/** Which lines a programme drives, and the cores that stand out. */
export function linesOf({ programme, mat, exceptions }: Design) {
  const observed = programme.at(-1)!;
  return {
    usedRows: new Set(programme.filter((c) => c.lines !== 'y').map((c) => c.row)),
    usedColumns: new Set(programme.filter((c) => c.lines !== 'x').map((c) => c.column)),
    addressed: observed.row * mat.columns + observed.column,
    exceptions: new Map(exceptions.map((e) => [e.row * mat.columns + e.column, e])),
  };
}

/**
 * Every class once, and the class of each part of each core of this mat as it was found.
 * @param watched false: which class a part is of is not asked for, and not kept
 */
export function findMembers(
  mat: MatCores,
  stacked: boolean,
  watched: boolean,
): { members: Member[]; ofPart: Int32Array } {
  const { design, sections, spread } = mat;
  const members: Member[] = [];
  const add: AddMember = (classes, index, section, count, kind) => {
    let k = classes[section]!;
    if (k < 0) {
      k = classes[section] = members.length;
      members.push({ index, section, count: 0, mat: kind, place: k });
    }
    members[k]!.count += count;
    return k;
  };
  const classesOf = bySection(sections.count);
  const cores = design.mat.rows * design.mat.columns;
  const absent = absentCores(design);
  const ofPart = new Int32Array(watched ? PLACES * cores : 0).fill(-1);
  const { places, shares, ofCore } = sections;
  for (let index = 0; index < cores; index++) {
    if (absent.size > 0 && absent.has(index)) continue;
    const classes = classesOf(likeness(mat, index));
    const at = index * PLACES;
    // Where every core differs, splitting each between two sections would double the work for little.
    if (spread !== undefined || ofCore[index]! < 0) {
      const k = add(classes, index, ofCore[index]! < 0 ? sections.count : ofCore[index]!, 1, THIS_MAT);
      if (watched) ofPart[at] = k;
      continue;
    }
    for (let part = at; part < at + PLACES && places[part]! >= 0; part++) {
      const k = add(classes, index, places[part]!, shares[part]!, THIS_MAT);
      if (watched) ofPart[part] = k;
    }
  }
  if (stacked) addOtherMats(mat, classesOf, add);
  return { members, ofPart };
}

/** The classes of cores that are alike, by section, the last for cores that the wire does not thread. */
function bySection(sections: number): (alike: number) => Int32Array {
  const known = new Map<number, Int32Array>();
  return (alike) => {
    let classes = known.get(alike);
    if (classes === undefined) known.set(alike, (classes = new Int32Array(sections + 1).fill(-1)));
    return classes;
  };
}

/** A number that is equal for cores that may be counted together in a section: a core's own, or one beyond all of them. */
function likeness(mat: MatCores, index: number): number {
  const { design, bits, polarity, spread, initial, addressed, exceptions } = mat;
  if (spread !== undefined || initial !== undefined || exceptions.has(index) || index === addressed)
    return index;
  const { rows, columns } = design.mat;
  return rows * columns + SIGNS * (2 * linesAt(mat, index) + bits[index]!) + polarity[index]! + 1;
}

/** Polarities: -1, 0 where the wire does not thread a core, 1. */
const SIGNS = 3;

/** A number for the lines of the programme that drive a core, below (rows + 1) (columns + 1). */
function linesAt({ design, usedRows, usedColumns }: MatCores, index: number): number {
  const { rows, columns } = design.mat;
  const r = Math.floor(index / columns);
  const c = index % columns;
  return (usedRows.has(r) ? r : rows) * (columns + 1) + (usedColumns.has(c) ? c : columns);
}

/** Other mats hold this mat's pattern but for the addressed core: `otherOnes` of them a ONE, the rest a ZERO. */
function addOtherMats(mat: MatCores, classesOf: (alike: number) => Int32Array, add: AddMember): void {
  const { design, sections, bits, usedRows: rows, usedColumns: columns, addressed } = mat;
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
      // Below zero, where no core of this mat has its key: lines, then what is held (2: addressed), then which mats.
      const held = index === addressed ? 2 : bits[index]!;
      const alike = -1 - (3 * (3 * linesAt(mat, index) + held) + kind);
      add(classesOf(alike), index, sections.count, mats, kind);
    }
  }
}
