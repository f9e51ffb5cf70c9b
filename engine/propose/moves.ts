import { valueAt } from '../base/json-patch.ts';
import type { Unit } from '../base/units.ts';
import type { Design } from '../design/design.ts';
import { build, orRefused } from './build.ts';
import { firstCases } from './first-cases.ts';
import { judge, type Judged } from './judge.ts';
import { NOTHING } from './reserve.ts';
import type { Run } from './run.ts';
import type { Needs } from './needs.ts';
import type { Found } from './refine.ts';
import { moved, ranges } from './variables.ts';
import type { VariableName } from './variables.ts';

/** How far one value of a build may move by itself, strobe and threshold set anew, before its reserve falls to 95 %. */
export interface ValueRange {
  /** Of its design file, as a JSON pointer. */
  readonly field: string;
  readonly label: string;
  readonly unit: Unit;
  /** SI: as proposed, and the ends; an end may be that of the search. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** What must be left of the reserve. */
const KEPT = 0.95;
/** First steps of a variable's own that are looked at either way, and halvings between the last that holds and the next that does not. */
const REACH = 4;
const HALVINGS = 3;

const FIELDS: Readonly<Record<VariableName, Pick<ValueRange, 'field' | 'label' | 'unit'>>> = {
  half: { field: '/drive/x/readAmplitude', label: 'half-select current', unit: 'A' },
  tracking: {
    field: '/drive/x/temperatureCoefficient',
    label: 'temperature coefficient of the drives',
    unit: '1/K',
  },
  stagger: { field: '/cycle/stagger', label: 'stagger of Y', unit: 's' },
  rise: { field: '/drive/x/rise', label: 'edges of X and Y', unit: 's' },
  termination: { field: '/terminations/a', label: 'terminations', unit: 'ohm' },
  inhibit: { field: '/drive/inhibit/amplitude', label: 'inhibit current', unit: 'A' },
  bandwidth: { field: '/amplifier/bandwidth', label: 'bandwidth of the amplifier', unit: 'Hz' },
};

/**
 * The range of each value that the search moved, the others as they are, judged by the cases that set this build's
 * box. What a rule sets (widths, gap, inhibit edges) follows the value, as it did in the search.
 */
export function movesOf(
  needs: Needs,
  found: Found,
  how: { readonly run: Run; readonly cancelled?: () => boolean },
): readonly ValueRange[] {
  const { combination, variables } = found;
  const limits = ranges(needs, variables);
  const judgeAt = (design: Design, least?: number): Judged | undefined =>
    judge(
      needs,
      design,
      { first: found.setBy, all: firstCases(design) },
      { ...how, ...(least === undefined ? {} : { least }) },
    );
  const own = orRefused(() => build(needs, combination, variables, found).design);
  if (own === undefined) return [];
  const least = KEPT * Math.min(found.reserve, judgeAt(own)!.value);
  const names = (Object.keys(FIELDS) as VariableName[]).filter(
    (name) => limits[name].high > limits[name].low,
  );
  return names.flatMap((name): ValueRange[] => {
    /** The value of its field where the variable is moved by so many steps and that is enough; else undefined. */
    const at = (steps: number): number | undefined => {
      const value = moved(limits[name], variables[name], steps);
      if (value === undefined || how.cancelled?.() === true) return undefined;
      return orRefused(() => {
        const { design } = build(needs, combination, { ...variables, [name]: value }, found);
        const held = (judgeAt(design, least)?.value ?? NOTHING) >= least;
        return held ? (valueAt(design, FIELDS[name].field) as number) : undefined;
      });
    };
    const value = valueAt(own, FIELDS[name].field) as number;
    const ends = [farthest(at, -1), farthest(at, 1)].map((end) => end ?? value);
    return [{ ...FIELDS[name], value, low: Math.min(value, ...ends), high: Math.max(value, ...ends) }];
  });
}

/** The farthest value one way that holds, or undefined where none of those that are looked at does. */
function farthest(at: (steps: number) => number | undefined, way: 1 | -1): number | undefined {
  let kept = at(way * REACH);
  if (kept !== undefined) return kept;
  let [last, short]: [number, number] = [0, REACH];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (last + short) / 2;
    const between = at(way * middle);
    if (between === undefined) short = middle;
    else [last, kept] = [middle, between];
  }
  return kept;
}
