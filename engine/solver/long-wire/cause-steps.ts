import type { Sections } from '../../network/sections.ts';
import { PARTS, type Split } from '../split-state.ts';
import type { LongWire } from './long-wire.ts';

/** One step of the wire cause by cause (see stepWire), in one pass there and one back; loops over causes unrolled by hand. */
export function stepCauses(
  long: LongWire,
  split: Split,
  sections: Sections,
  late: number,
  injected: number,
): void {
  eliminate(long, split, sections, late, injected);
  substitute(long, split, sections.count);
}

function eliminate(long: LongWire, split: Split, sections: Sections, late: number, injected: number): void {
  const { drop, carried, charge, through, lower } = long;
  const { mean, slope } = long.shares;
  const { lag, v } = split;
  const { resistance, conductance, injection, count: n } = sections;
  let [j0, j1, j2, j3, j4] = [0, 0, 0, 0, 0];
  let [r0, r1, r2, r3, r4] = [0, 0, 0, 0, 0];
  let v0 = v[0]!;
  let v1 = v[1]!;
  let v2 = v[2]!;
  let v3 = v[3]!;
  let v4 = v[4]!;
  for (let k = 0, at = 0; k <= n; k++, at += PARTS) {
    const m = lower[k]!;
    const G = conductance[k]!;
    r0 = j0 + charge[k]! - G * v0 - m * r0;
    r1 = j1 - G * v1 - m * r1;
    r2 = j2 - G * v2 - m * r2;
    r3 = j3 - G * v3 - m * r3;
    r4 = j4 + injection[k]! * injected - G * v4 - m * r4;
    if (k < n) {
      const R = resistance[k]!;
      const g = through[k]!;
      const i0 = lag[at]!;
      const i1 = lag[at + 1]!;
      const i2 = lag[at + 2]!;
      const i3 = lag[at + 3]!;
      const i4 = lag[at + 4]!;
      const n0 = v[at + 5]!;
      const n1 = v[at + 6]!;
      const n2 = v[at + 7]!;
      const n3 = v[at + 8]!;
      const n4 = v[at + 9]!;
      const u0 = v0 - n0 - (mean[at]! + late * slope[at]!) - R * i0;
      const u1 = v1 - n1 - (mean[at + 1]! + late * slope[at + 1]!) - R * i1;
      const u2 = v2 - n2 - (mean[at + 2]! + late * slope[at + 2]!) - R * i2;
      const u3 = v3 - n3 - (mean[at + 3]! + late * slope[at + 3]!) - R * i3;
      const u4 = v4 - n4 - (mean[at + 4]! + late * slope[at + 4]!) - R * i4;
      drop[at] = u0;
      drop[at + 1] = u1;
      drop[at + 2] = u2;
      drop[at + 3] = u3;
      drop[at + 4] = u4;
      j0 = i0 + g * u0;
      j1 = i1 + g * u1;
      j2 = i2 + g * u2;
      j3 = i3 + g * u3;
      j4 = i4 + g * u4;
      r0 -= j0;
      r1 -= j1;
      r2 -= j2;
      r3 -= j3;
      r4 -= j4;
      v0 = n0;
      v1 = n1;
      v2 = n2;
      v3 = n3;
      v4 = n4;
    }
    carried[at] = r0;
    carried[at + 1] = r1;
    carried[at + 2] = r2;
    carried[at + 3] = r3;
    carried[at + 4] = r4;
  }
}

function substitute(long: LongWire, { lag, v }: Split, n: number): void {
  const { drop, carried, answer, pivot, off } = long;
  let [x0, x1, x2, x3, x4] = [0, 0, 0, 0, 0];
  for (let k = n, at = n * PARTS; k >= 0; k--, at -= PARTS) {
    const o = k === n ? 0 : off[k]!;
    const p = pivot[k]!;
    const z0 = (carried[at]! - o * x0) * p;
    const z1 = (carried[at + 1]! - o * x1) * p;
    const z2 = (carried[at + 2]! - o * x2) * p;
    const z3 = (carried[at + 3]! - o * x3) * p;
    const z4 = (carried[at + 4]! - o * x4) * p;
    if (k < n) {
      const y = answer[k]!;
      lag[at]! += y * (drop[at]! + (z0 - x0) / 2);
      lag[at + 1]! += y * (drop[at + 1]! + (z1 - x1) / 2);
      lag[at + 2]! += y * (drop[at + 2]! + (z2 - x2) / 2);
      lag[at + 3]! += y * (drop[at + 3]! + (z3 - x3) / 2);
      lag[at + 4]! += y * (drop[at + 4]! + (z4 - x4) / 2);
    }
    v[at]! += z0;
    v[at + 1]! += z1;
    v[at + 2]! += z2;
    v[at + 3]! += z3;
    v[at + 4]! += z4;
    x0 = z0;
    x1 = z1;
    x2 = z2;
    x3 = z3;
    x4 = z4;
  }
}

/** What the causes sum to: the wire's lagged currents and voltages. */
export function sumCauses({ lag, v }: Split, toLag: Float64Array, toV: Float64Array): void {
  for (let k = 0, at = 0; k < toV.length; k++, at += PARTS) {
    toLag[k] = lag[at]! + lag[at + 1]! + lag[at + 2]! + lag[at + 3]! + lag[at + 4]!;
    toV[k] = v[at]! + v[at + 1]! + v[at + 2]! + v[at + 3]! + v[at + 4]!;
  }
}

/** V at a node, of all causes. */
export function causesAt({ v }: Split, node: number): number {
  let sum = 0;
  for (let part = 0; part < PARTS; part++) sum += v[node * PARTS + part]!;
  return sum;
}

/** Adds the voltages as they stand to those within the core step. */
export function addVoltages({ within, v }: LongWire, split: Split | undefined): void {
  for (let node = 0; node < within.length; node++) within[node]! += split ? causesAt(split, node) : v[node]!;
}
