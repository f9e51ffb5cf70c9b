import { NOTHING, recheck, strobeOf } from './trials.ts';
import type { Bench, Trial } from './trials.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './levers.ts';
import type { Lever } from './levers.ts';
import type { Design } from '../design/design.ts';
import type { WindingKind } from '../design/mat.ts';
import type { Requirement } from '../design/requirement.ts';
import type { Unit } from '../base/units.ts';
import { reaches } from '../strobe/window-at.ts';

/** The smallest change of one input that reaches what is wanted, or none. */
export interface Change {
  readonly label: string;
  readonly fields: readonly string[];
  readonly unit: Unit | undefined;
  readonly from: number | WindingKind;
  /** Undefined: no value tried in `range` reaches it with this input alone. */
  readonly to: number | WindingKind | undefined;
  readonly range: readonly [number, number] | undefined;
  /** What the change gives, every pattern and disturb state run again. Where there is no `to`: the best margin seen. */
  readonly gives: Requirement;
  /** The value that `gives` belongs to; undefined when every value was refused by the check. */
  readonly at: number | WindingKind | undefined;
}

/** Between the last value that fails and the first that does, the edge is found to this part of their distance. */
const RESOLUTION = 1 / 32;

/**
 * Tries values outward from the present one, both ways; between the last that fails and the first that does, the
 * edge is found by `findEdge`. Smallest as far as the spacing of the trials shows.
 */
export function findChange(
  bench: Bench,
  lever: Lever,
  wanted: Requirement,
  trials: number,
  trial: (design: Design) => Trial | undefined,
): Change {
  const { design } = bench;
  const range = lever.range(design);
  const from = lever === STROBE ? strobeOf(bench) : lever.read(design);
  const described = { label: lever.label, fields: lever.fields, unit: lever.unit, from, range };
  const usable = Number.isFinite(from) && (!lever.ratio || from > 0);
  const start = usable ? from : lever.ratio ? Math.sqrt(range[0] * range[1]) : 0;
  const place = (end: number, part: number): number =>
    lever.ratio ? start * (end / start) ** part : start + (end - start) * part;
  const tried: { readonly value: number; readonly made: Trial }[] = [];
  /** At least 0 where it reaches what is wanted. */
  const score = (value: number): number => {
    const made = trial(lever.write(design, value));
    if (made === undefined) return -Infinity;
    tried.push({ value, made });
    return shortBy(reaches(made.atMost, wanted) ? made.exact() : made.atMost, wanted);
  };
  let before = range.map(() => -Infinity);
  for (let k = 1; k <= trials; k++) {
    const now = [...before];
    for (const [side, end] of range.entries()) {
      if (end === start) continue;
      now[side] = score(place(end, k / trials));
      if (now[side] < 0) continue;
      const part = findEdge(
        (at) => score(place(end, at)),
        { at: (k - 1) / trials, score: before[side]! },
        { at: k / trials, score: now[side] },
      );
      const to = place(end, part);
      const gives = bench.full(lever.write(design, to));
      if (reaches(gives, wanted)) return { ...described, to, gives, at: to };
    }
    before = now;
  }
  return { ...described, to: undefined, ...bestOf(tried, WORTH * Math.abs(wanted.margin)) };
}

/** Parts by which what there is falls short of what is wanted, negative; 0 or more where it reaches it. */
function shortBy(has: Requirement, wanted: Requirement): number {
  const margin = (has.margin - wanted.margin) / Math.max(Math.abs(wanted.margin), 1e-3);
  const width = (has.width - wanted.width) / Math.max(wanted.width, 1e-9);
  return reaches(has, wanted) ? Math.max(0, Math.min(margin, width)) : Math.min(margin, width, -1e-12);
}

interface Tried {
  readonly at: number;
  readonly score: number;
}

/**
 * Where the score passes nothing between a place that falls short and one that does not: a secant, then one step of
 * the resolution back (or on) to confirm it, halving where either score is unknown or five trials have not done it.
 *
 * @returns the nearer place that passes
 */
function findEdge(score: (at: number) => number, short: Tried, enough: Tried): number {
  const finest = RESOLUTION * Math.abs(enough.at - short.at);
  let [low, high] = [short, enough];
  let confirm = 0;
  for (let n = 0; high.at - low.at > 1.001 * finest; n++) {
    const part = low.score / (low.score - high.score);
    const secant =
      Number.isFinite(part) && n < 5 ? low.at + (high.at - low.at) * part : (low.at + high.at) / 2;
    const aim = confirm > 0 ? high.at - finest : confirm < 0 ? low.at + finest : secant;
    const at = Math.max(low.at + finest / 2, Math.min(high.at - finest / 2, aim));
    const found = { at, score: score(at) };
    const passes = found.score >= 0;
    if (passes) high = found;
    else low = found;
    confirm = confirm === 0 ? (passes ? 1 : -1) : 0;
  }
  return high.at;
}

/** The best margin of values that all fall short is told to this part of what is wanted. */
const WORTH = 0.01;

/** The best margin of what was tried. What cannot beat the best so far by what is worth telling is not run to the end. */
function bestOf(
  tried: readonly { readonly value: number; readonly made: Trial }[],
  worth: number,
): Pick<Change, 'gives' | 'at'> {
  let best: Pick<Change, 'gives' | 'at'> = { gives: NOTHING, at: undefined };
  for (const { value, made } of [...tried].sort((a, b) => b.made.atMost.margin - a.made.atMost.margin)) {
    if (made.atMost.margin <= best.gives.margin + worth) break;
    const gives = made.exact();
    if (gives.margin > best.gives.margin) best = { gives, at: value };
  }
  return best;
}

const KINDS: readonly WindingKind[] = [
  'shared-one-run',
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
];

/** The other windings, as the check lets them be (rows and columns must suit). */
export function windingChanges(bench: Bench, wanted: Requirement): Change[] {
  const { design } = bench;
  return KINDS.filter((kind) => kind !== design.winding.kind).flatMap((kind) => {
    const changed = { ...design, winding: { kind, segments: design.winding.segments } };
    if (recheck(changed) === undefined) return [];
    const gives = bench.full(changed);
    return [
      {
        label: 'Winding',
        fields: ['/winding/kind'],
        unit: undefined,
        from: design.winding.kind,
        to: reaches(gives, wanted) ? kind : undefined,
        range: undefined,
        gives,
        at: kind,
      },
    ];
  });
}

/** The design with a change made: as far as `to`, or to where it gave the best margin seen; as it was where neither is. */
export function applyChange(design: Design, { label, to, at }: Change): Design {
  const value = to ?? at;
  if (value === undefined) return design;
  if (typeof value !== 'number')
    return { ...design, winding: { kind: value, segments: design.winding.segments } };
  const lever = [STROBE, THRESHOLD, ...RUN_LEVERS].find((item) => item.label === label);
  return lever === undefined ? design : lever.write(design, value);
}

/** Relative size of a change; the strobe in parts of the read, a winding as a whole, none last. */
export function sizeOf({ from, to, range }: Change): number {
  if (to === undefined) return Infinity;
  if (typeof from !== 'number' || typeof to !== 'number') return 1;
  const scale = from !== 0 && Number.isFinite(from) ? Math.abs(from) : Math.abs(range?.[1] ?? 1);
  return Math.abs(to - from) / scale;
}
