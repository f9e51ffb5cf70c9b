import type { Sections } from '../../network/sections.ts';
import { MAX_NEAR, NEIGHBOUR_SHARE } from '../ladder.ts';
import { roleSum } from '../section-sums.ts';
import type { LongWire } from './long-wire.ts';

/** Of h^2/L, what counts between neighbours in a trapezoidal step: twice its error constant of a twelfth. */
const TURN = 1 / 6;

/** Factors the ladder for wire steps of h, s, with the cores' own answer as the core step has it. */
export function factorWire(long: LongWire, sections: Sections, h: number): void {
  const { answer, through, pivot, lower, off } = long;
  const { inductance, resistance, capacitance, conductance, lossTime, count: n } = sections;
  const own = long.own.mean;
  const stride = n + 1;
  const half = 1 / 2 + lossTime / h;
  let diagonal = 0;
  let above = 0;
  let multiplier = 0;
  for (let k = 0; k < n; k++) {
    const L = inductance[k]! + roleSum(own, stride, k);
    const perVolt = 1 / (L / h + resistance[k]! * half);
    const g = half * perVolt;
    const C = capacitance[k]!;
    const near = Math.min(MAX_NEAR * C, NEIGHBOUR_SHARE * C + (TURN * h * h) / L);
    const node = (C / 2 - near) / h + g / 2;
    const p = 1 / (conductance[k]! / 2 + diagonal + node - multiplier * above);
    lower[k] = multiplier;
    above = near / h - g / 2;
    multiplier = above * p;
    answer[k] = perVolt;
    through[k] = g;
    pivot[k] = p;
    off[k] = above;
    diagonal = node;
  }
  lower[n] = multiplier;
  pivot[n] = 1 / (conductance[n]! / 2 + diagonal - multiplier * above);
}

/**
 * One step of the wire as a whole.
 * @param late s, middle of the step after that of the core step; @param injected A of inhibit current there
 */
export function stepWire(long: LongWire, sections: Sections, late: number, injected: number): void {
  const { lag, v, drop, carried: kept, charge, answer, through, pivot, lower, off } = long;
  const { mean, slope } = long.emf;
  const { resistance, conductance, injection, count: n } = sections;
  let before = 0;
  let carried = 0;
  let here = v[0]!;
  for (let k = 0; k < n; k++) {
    const next = v[k + 1]!;
    const u = here - next - (mean[k]! + late * slope[k]!) - resistance[k]! * lag[k]!;
    const j = lag[k]! + through[k]! * u;
    const enters = charge[k]! + injection[k]! * injected;
    kept[k] = carried = before - j + enters - conductance[k]! * here - lower[k]! * carried;
    drop[k] = u;
    before = j;
    here = next;
  }
  const enters = charge[n]! + injection[n]! * injected;
  let x = (before + enters - conductance[n]! * here - lower[n]! * carried) * pivot[n]!;
  v[n] = here + x;
  for (let k = n - 1; k >= 0; k--) {
    const change = (kept[k]! - off[k]! * x) * pivot[k]!;
    lag[k] = lag[k]! + answer[k]! * (drop[k]! + (change - x) / 2);
    v[k] = v[k]! + change;
    x = change;
  }
}
