import type { Design } from '../design/design.ts';
import { anotherAddress } from '../mat/another-address.ts';
import { halfSelectSum } from '../mat/half-select-law.ts';
import { storedBits } from '../mat/stored-pattern.ts';
import { polarityOf, wirePath } from '../mat/winding.ts';
import { applyOverrides, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { CaseSpace } from './cases.ts';

/**
 * What the voltage of a case at the strobe is made of. The wire is linear, so that what cores and drives put on it adds up:
 * the half-selected cores by their signed count, the cycle before by what its core gave and on which side; each of them
 * moves with the corner. Cases that share a trait share what comes of it.
 */
export interface CaseTraits {
  /** Indices into the case space. */
  readonly pattern: number;
  readonly history: number;
  readonly address: number;
  readonly corner: number;
  /** 1: disturbed, 0: not. Numbers, since thousands of pairs are compared. */
  readonly state: 0 | 1;
  /** Which cycle goes before: the same number for the same kind, and of one elsewhere the same side and stored bit. */
  readonly past: number;
  /** ONEs among the half-selected cores, signed by polarity relative to the selected core, in parts of the greatest such sum. */
  readonly count: number;
  /** -1 at the low end, 1 at the high end, 0 as designed. */
  readonly drive: number;
  readonly supply: number;
  readonly temperature: number;
  /** -1 where the selected core is threaded backwards: a ONE then comes with the sign of the other polarity. */
  readonly sign: 1 | -1;
}

/** The traits of every case of the product for one bit, the corner running fastest, then address, history, pattern. */
export function caseTraits(design: Design, bit: 0 | 1, space: CaseSpace): CaseTraits[] {
  const { mat } = design;
  const planned = polarityOf(mat, design.winding);
  const { polarity } = wirePath(design);
  const end = (value: number | undefined, middle: number): number =>
    value === undefined ? 0 : Math.sign(value - middle);
  const corners = space.corners.map((corner) => ({
    drive: end(corner.drive, 1),
    supply: end(corner.supply, 1),
    temperature: end(corner.temperature, design.temperature),
  }));
  const reads = space.patterns.map((pattern) =>
    space.addresses.map((address) => {
      const spec = { bit, ...pattern, state: design.initialState, ...address };
      const placed = applyOverrides(design, overridesOf(design, spec));
      const bits = storedBits(placed);
      const own = coreAt(mat, placed.selected);
      const other = coreAt(mat, anotherAddress(mat, placed.selected));
      return {
        count: halfSelectSum(polarity, bits, mat, placed.selected, 1, 0),
        /** Of the four that a cycle elsewhere can be: side of its core on the wire, and the bit it holds. */
        elsewhere: (polarity[own] === polarity[other] ? 2 : 0) + bits[other]!,
        sign: planned[own] === polarity[own] ? (1 as const) : (-1 as const),
      };
    }),
  );
  const most = Math.max(1, ...reads.flat().map(({ count }) => Math.abs(count)));
  return reads.flatMap((read, pattern) =>
    space.histories.flatMap(({ state, previous }, history) =>
      read.flatMap(({ count, elsewhere, sign }, address) =>
        corners.map(({ drive, supply, temperature }, corner) => ({
          pattern,
          history,
          address,
          corner,
          state: state === 'disturbed' ? (1 as const) : (0 as const),
          past: pastOf(previous, elsewhere),
          count: count / most,
          drive,
          supply,
          temperature,
          sign,
        })),
      ),
    ),
  );
}

const coreAt = ({ columns }: Design['mat'], at: { readonly row: number; readonly column: number }): number =>
  at.row * columns + at.column;

const PASTS: readonly CaseSpec['previous'][] = [undefined, 'own', 'inhibited', 'written'];

const pastOf = (previous: CaseSpec['previous'], elsewhere: number): number =>
  4 * PASTS.indexOf(previous) + (previous === 'inhibited' || previous === 'written' ? elsewhere : 0);

type Index = Pick<CaseTraits, 'pattern' | 'history' | 'address' | 'corner'>;

/** Where a case stands in the list of traits. */
export const placeOf = (
  { histories, addresses, corners }: CaseSpace,
  { pattern, history, address, corner }: Index,
): number => ((pattern * histories.length + history) * addresses.length + address) * corners.length + corner;

/**
 * Cases about one that show what each of its traits does: every other pattern, history and address, and every cycle
 * before that there is, with as little else changed as may be; and every corner in either disturb state, since a disturbed
 * core answers sooner, so that where more drive makes one state worse, less may make the other worse still.
 */
export function casesAbout(
  space: CaseSpace,
  traits: readonly CaseTraits[],
  place: number,
): { readonly traits: readonly number[]; readonly corners: readonly number[] } {
  const base = traits[place]!;
  const turned = (factor: keyof Index, list: readonly unknown[]): number[] =>
    list.map((_, index) => placeOf(space, { ...base, [factor]: index }));
  const nearest = new Map<number, { readonly place: number; readonly changed: number }>();
  traits.forEach((each, index) => {
    if (each.corner !== base.corner) return;
    const changed =
      Number(each.pattern !== base.pattern) +
      1.1 * Number(each.address !== base.address) +
      Math.abs(each.count - base.count) / 2;
    const key = 2 * each.past + each.state;
    if (changed < (nearest.get(key)?.changed ?? Infinity)) nearest.set(key, { place: index, changed });
  });
  const { previous } = space.histories[base.history]!;
  const states = space.histories.flatMap((each, history) => (each.previous === previous ? [history] : []));
  return {
    traits: [
      ...turned('pattern', space.patterns),
      ...turned('history', space.histories),
      ...turned('address', space.addresses),
      ...[...nearest.values()].map((each) => each.place),
    ],
    corners: states.flatMap((history) =>
      space.corners.map((_, corner) => placeOf(space, { ...base, history, corner })),
    ),
  };
}
