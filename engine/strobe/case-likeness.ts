import type { CaseTraits } from './case-traits.ts';

/**
 * How much the voltages of two cases have in common, in no unit, before anything was run: a sum over what may make them, each
 * part where the cases share the traits that it hangs on. The weights are rounded from how the voltages of whole
 * products of cases of random designs vary (test/soak/corners.soak.ts); only their proportions count, and they are a first
 * guess, over which goes what the runs of the design at hand say.
 */
export function likeness(a: CaseTraits, b: CaseTraits): number {
  const state = same(a.state, b.state);
  const past = same(a.past, b.past);
  const pattern = same(a.pattern, b.pattern);
  const address = same(a.address, b.address);
  const corner = same(a.corner, b.corner);
  const equal = same(a.count, b.count);
  // What is counted or moved has the same effect in proportion.
  const count = a.count * b.count;
  const drive = a.drive * b.drive;
  const supply = a.supply * b.supply;
  const heat = a.temperature * b.temperature;

  const moved = drive + 0.3 * supply + 0.5 * heat + 0.05 * corner;
  const core = state * (1 + 0.5 * drive + 0.3 * heat + 0.3 * corner);
  const before = past * (1 + 0.5 * drive + 0.3 * heat + 0.05 * corner);
  const both = state * past * (0.5 + 0.2 * drive + 0.05 * corner);
  const halfSelected = count * (1 + 0.3 * state + 0.1 * (drive + heat) + 0.1 * state * corner);
  const place = 0.1 * (equal + pattern + address) + 0.05 * pattern * (address + corner + state);
  const beforeHere = 0.05 * past * (count + pattern + address);
  const alone = 0.02 * state * past * pattern * address * corner;
  return moved + core + before + both + halfSelected + place + beforeHere + alone;
}

const same = (a: number, b: number): number => (a === b ? 1 : 0);
