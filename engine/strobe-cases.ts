import { applyOverrides, overridesOf } from './case-overrides.ts';
import type { CaseSpec } from './case-overrides.ts';
import type { Design } from './design.ts';
import { storedBits } from './stored-pattern.ts';
import { wirePath } from './winding.ts';

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

function histories(design: Design, base: CaseSpec): CaseSpec[] {
  const { rows, columns } = design.mat;
  if (rows < 2 || columns < 2) return [];
  return [
    { ...base, previous: 'inhibited' },
    { ...base, previous: 'written' },
  ];
}

/** Drive and temperature at both ends of their tolerances together. */
export function cornersOf(design: Design, base: CaseSpec): CaseSpec[] {
  const drive = CORNER_SIGMAS * design.tolerances.drive;
  const heat = design.tolerances.temperature;
  const drives = drive > 0 ? [1 - drive, 1 + drive] : [undefined];
  const heats = heat > 0 ? [design.temperature - heat, design.temperature + heat] : [undefined];
  return drives
    .flatMap((d) => heats.map((t): CaseSpec => ({ ...base, drive: d, temperature: t })))
    .filter((spec) => spec.drive !== undefined || spec.temperature !== undefined);
}
