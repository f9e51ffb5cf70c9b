import { NOTHING, reaches, recheck, strobeOf } from './advice-bench.ts';
import type { Bench, Wanted } from './advice-bench.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from './advice-levers.ts';
import type { Lever } from './advice-levers.ts';
import type { Design, WindingKind } from './design.ts';
import type { Unit } from './units.ts';

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
  readonly gives: Wanted;
  /** The value that `gives` belongs to; undefined when every value was refused by the check. */
  readonly at: number | WindingKind | undefined;
}

/**
 * Tries values outward from the present one, both ways; between the last that fails and the first that does, the
 * edge is found by bisection. Smallest as far as the spacing of the trials shows.
 */
export function findChange(
  bench: Bench,
  lever: Lever,
  wanted: Wanted,
  trials: number,
  trial: (design: Design) => Wanted | undefined,
): Change {
  const { design } = bench;
  const range = lever.range(design);
  const from = lever === STROBE ? strobeOf(bench) : lever.read(design);
  const described = { label: lever.label, fields: lever.fields, unit: lever.unit, from, range };
  const start = Number.isFinite(from) && from > 0 ? from : lever.ratio ? Math.sqrt(range[0] * range[1]) : 0;
  const place = (end: number, part: number): number =>
    lever.ratio ? start * (end / start) ** part : start + (end - start) * part;
  let best = NOTHING;
  let at: number | undefined;
  const passes = (value: number): boolean => {
    const has = trial(lever.write(design, value));
    if (has !== undefined && has.margin > best.margin) {
      best = has;
      at = value;
    }
    return has !== undefined && reaches(has, wanted);
  };
  for (let k = 1; k <= trials; k++)
    for (const end of range) {
      if (end === start || !passes(place(end, k / trials))) continue;
      let low = (k - 1) / trials;
      let high = k / trials;
      for (let i = 0; i < 5; i++) {
        const middle = (low + high) / 2;
        if (passes(place(end, middle))) high = middle;
        else low = middle;
      }
      const to = place(end, high);
      const gives = bench.full(lever.write(design, to));
      if (reaches(gives, wanted)) return { ...described, to, gives, at: to };
    }
  return { ...described, to: undefined, gives: best, at };
}

const KINDS: readonly WindingKind[] = [
  'shared-one-run',
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
];

/** The other windings, as the check lets them be (rows and columns must suit). */
export function windingChanges(bench: Bench, wanted: Wanted): Change[] {
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
