import { applyOverrides, overridesOf } from './case-overrides.ts';
import type { CasePattern, CaseSpec } from './case-overrides.ts';
import type { Design } from '../design/design.ts';
import { trackingError } from '../estimates/constraints/ends.ts';
import { CORNER_SIGMAS } from './envelope.ts';
import { storedBits } from '../mat/stored-pattern.ts';
import { wirePath } from '../mat/winding.ts';

/**
 * ONE and ZERO over the stored patterns that can be worst and both disturb states. The worst patterns follow from the
 * sign of each half-selected core's share; both, their opposites and the given one are run, so that the claim is
 * verified and not assumed. Patterns that come to the same bits are run once.
 */
export function patternCases(design: Design): CaseSpec[] {
  const states = ['undisturbed', 'disturbed'] as const;
  return ([1, 0] as const).flatMap((bit) =>
    patternsOf(design).flatMap((pattern) => states.map((state): CaseSpec => ({ bit, pattern, state }))),
  );
}

/**
 * What a quick answer runs: those, and either bit as its own write has left it in the cycle before, every other core
 * disturbed: what a memory does to every bit it keeps. A ZERO's inhibited write drives it with more than a half-select
 * (X and Y less inhibit), so that it is disturbed more than by any train of half-selects.
 */
export function quickCases(design: Design): CaseSpec[] {
  const written = { state: 'disturbed', previous: 'own' } as const;
  return [
    ...patternCases(design),
    { bit: 1, pattern: 'worst-one', ...written },
    { bit: 0, pattern: 'worst-zero', ...written },
  ];
}

/** What a case may differ in, each list complete: the whole product of them is what a set of cases means. */
export interface CaseSpace {
  readonly patterns: readonly Pick<CaseSpec, 'pattern'>[];
  readonly histories: readonly Pick<CaseSpec, 'state' | 'previous'>[];
  readonly addresses: readonly Pick<CaseSpec, 'address'>[];
  /** None first, then the ends of drive, supply and temperature as far as they are stated to stray. */
  readonly corners: readonly Pick<CaseSpec, 'drive' | 'supply' | 'temperature'>[];
}

export function caseSpace(design: Design): CaseSpace {
  const places = addresses(design);
  // A worst pattern that is the given one at the design's own address need not be so at another.
  const worst = places.length > 1 ? (['worst-one', 'worst-zero'] as const) : [];
  const patterns = new Set<CasePattern>([...patternsOf(design), ...worst]);
  return {
    patterns: [...patterns].map((pattern) => ({ pattern })),
    histories: histories(design),
    addresses: places,
    corners: [{}, ...cornersOf(design)],
  };
}

/** The patterns that are not the same bits as one before. */
function patternsOf(design: Design): CasePattern[] {
  const seen = new Set<string>();
  return (['given', 'complement', 'worst-one', 'worst-zero'] as const).filter((pattern) => {
    const spec: CaseSpec = { bit: 1, pattern, state: design.initialState };
    const bits = storedBits(applyOverrides(design, overridesOf(design, spec))).join('');
    return !seen.has(bits) && seen.add(bits);
  });
}

/** The design's own core; first, middle and last along the wire; both ends of the mat's diagonal. */
function addresses(design: Design): Pick<CaseSpec, 'address'>[] {
  const { order } = wirePath(design);
  const { columns } = design.mat;
  const own = design.selected.row * columns + design.selected.column;
  const threaded = new Set(order);
  const diagonal = [0, design.mat.rows * columns - 1].filter((index) => threaded.has(index));
  const places = new Set([order[0]!, order[order.length >> 1]!, order[order.length - 1]!, ...diagonal]);
  places.delete(own);
  return [
    {},
    ...[...places].map((index) => ({
      address: { row: Math.floor(index / columns), column: index % columns },
    })),
  ];
}

/** Either disturb state, each with nothing before it, a cycle elsewhere, inhibited or not, and the bit's own write. */
function histories({ mat }: Design): Pick<CaseSpec, 'state' | 'previous'>[] {
  const elsewhere = mat.rows > 1 && mat.columns > 1 ? (['inhibited', 'written'] as const) : [];
  return (['undisturbed', 'disturbed'] as const).flatMap((state) => [
    { state },
    ...[...elsewhere, 'own' as const].map((previous) => ({ state, previous })),
  ]);
}

/**
 * Drive, supply and temperature at both ends of their tolerances, every combination. Drive is how far the drivers are
 * off on a supply as designed, with what one that follows the temperature misses there; the supply moves all drives and
 * the threshold alike.
 */
function cornersOf(design: Design): CaseSpace['corners'] {
  const { drive, supply, temperature: heat } = design.tolerances;
  const ends = (middle: number, reach: number): readonly (number | undefined)[] =>
    reach > 0 ? [middle - reach, middle + reach] : [undefined];
  const off = (temperature: number): number =>
    CORNER_SIGMAS * drive +
    Math.max(...(['x', 'y'] as const).map((n) => trackingError(design, n, temperature)));
  return ends(design.temperature, heat)
    .flatMap((t) =>
      ends(1, off(t ?? design.temperature)).flatMap((d) =>
        ends(1, supply).map((s) => ({
          ...(d === undefined ? {} : { drive: d }),
          ...(s === undefined ? {} : { supply: s }),
          ...(t === undefined ? {} : { temperature: t }),
        })),
      ),
    )
    .filter((corner) => Object.keys(corner).length > 0);
}
