import { applyOverrides, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { Design } from '../design/design.ts';
import { storedBits } from '../mat/stored-pattern.ts';
import { wirePath } from '../mat/winding.ts';

/** Corners lie this many standard deviations of a tolerance out: 95 % of parts. */
export const CORNER_SIGMAS = 2;

/**
 * ONE and ZERO over the stored patterns that can be worst and both disturb states. The worst patterns follow from
 * the sign of each half-selected core's share; both, their opposites and the given one are run, so that the claim
 * is verified and not assumed. Patterns that come to the same bits are run once.
 */
export function patternCases(design: Design): CaseSpec[] {
  const patterns = ['given', 'complement', 'worst-one', 'worst-zero'] as const;
  return ([1, 0] as const).flatMap((bit) => {
    const seen = new Set<string>();
    return patterns.flatMap((pattern) => {
      const spec: CaseSpec = { bit, pattern, state: design.initialState };
      const bits = storedBits(applyOverrides(design, overridesOf(design, spec))).join('');
      if (seen.has(bits)) return [];
      seen.add(bits);
      return [
        { ...spec, state: 'undisturbed' as const },
        { ...spec, state: 'disturbed' as const },
      ];
    });
  });
}

/**
 * ONE and ZERO as their own write has left them in the cycle before, every other core disturbed: what a memory does
 * to every bit it keeps. A ZERO's inhibited write drives it with more than a half-select (X and Y less inhibit), so
 * that it is disturbed more than by any train of half-selects.
 */
export function writtenCases(): CaseSpec[] {
  return (
    [
      [1, 'worst-one'],
      [0, 'worst-zero'],
    ] as const
  ).map(([bit, pattern]) => ({ bit, pattern, state: 'disturbed', previous: 'own' }));
}

/** Groups of alternatives to a case, each group changing one thing: the address, or the cycle before. */
export function variationsOf(design: Design, base: CaseSpec): CaseSpec[][] {
  return [addresses(design, base), histories(design, base)];
}

/** All of several variations of one case together. */
export function combineCases(base: CaseSpec, variations: readonly CaseSpec[]): CaseSpec {
  return Object.assign({}, base, ...variations) as CaseSpec;
}

/** First, middle and last core along the wire. */
function addresses(design: Design, base: CaseSpec): CaseSpec[] {
  const { order } = wirePath(design);
  const { columns } = design.mat;
  const own = design.selected.row * columns + design.selected.column;
  const places = [order[0], order[order.length >> 1], order[order.length - 1]];
  return [...new Set(places)]
    .filter((index) => index !== own)
    .map((index) => ({
      ...base,
      address: { row: Math.floor(index / columns), column: index % columns },
    }));
}

/** A cycle elsewhere, inhibited or not, and the bit's own write, on a mat of either disturb state. */
function histories({ mat }: Design, base: CaseSpec): CaseSpec[] {
  const elsewhere = mat.rows > 1 && mat.columns > 1 ? (['inhibited', 'written'] as const) : [];
  const states = ['undisturbed', 'disturbed'] as const;
  return [
    ...elsewhere.map((previous): CaseSpec => ({ ...base, previous })),
    ...states.map((state): CaseSpec => ({ ...base, state, previous: 'own' })),
  ];
}

/**
 * Drive, supply and temperature at both ends of their tolerances, every combination. Drive is how far the drivers are
 * off on a supply as designed; the supply moves all drives and the threshold alike.
 */
export function cornersOf(design: Design, base: CaseSpec): CaseSpec[] {
  const { drive, supply, temperature: heat } = design.tolerances;
  const ends = (middle: number, reach: number): readonly (number | undefined)[] =>
    reach > 0 ? [middle - reach, middle + reach] : [undefined];
  return ends(1, CORNER_SIGMAS * drive)
    .flatMap((d) => ends(1, supply).map((s) => ({ ...base, drive: d, supply: s })))
    .flatMap((spec) => ends(design.temperature, heat).map((t): CaseSpec => ({ ...spec, temperature: t })))
    .filter((spec) => [spec.drive, spec.supply, spec.temperature].some((value) => value !== undefined));
}
