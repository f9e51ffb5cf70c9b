import type { WindingKind } from '../design/mat.ts';
import { LARGEST_SIDE } from '../design/schema/mat.ts';
import type { Needs } from './needs.ts';

/** What a search does not move: sides of the mat, winding, core, amplifiers a bit. */
export interface Combination {
  readonly rows: number;
  readonly columns: number;
  readonly winding: Exclude<WindingKind, 'custom'>;
  /** Which of the cores of the needs. */
  readonly core: number;
  /** Amplifiers a bit: pieces of the sense wire. */
  readonly amplifiers: number;
}

/** Cores of a mat beyond the words that are asked for, and the longer side over the shorter, at most. */
const MOST_WASTE = 0.15;
const LONGEST = 4;
/** Organisations that are looked at: those with the fewest lines. */
const ORGANISATIONS = 2;
/** Combinations that are tried at all. */
const MOST_COMBINATIONS = 16;

/** Sides of a mat that hold the words, fewest lines first; even, so that every winding can be threaded. */
export function organisations({ words, mat }: Needs): readonly { rows: number; columns: number }[] {
  if (mat) return [mat];
  const found: { rows: number; columns: number }[] = [];
  for (let rows = 2; rows <= LARGEST_SIDE; rows += 2) {
    const columns = Math.max(rows, 2 * Math.ceil(words / rows / 2));
    if (columns > LARGEST_SIDE || columns > LONGEST * rows) continue;
    found.push({ rows, columns });
  }
  const least = Math.min(...found.map(({ rows, columns }) => rows * columns));
  return found
    .filter(({ rows, columns }) => rows * columns <= Math.max(least, (1 + MOST_WASTE) * words + 2))
    .sort((a, b) => a.rows + a.columns - b.rows - b.columns || a.rows * a.columns - b.rows * b.columns)
    .slice(0, ORGANISATIONS);
}

/** All combinations, those first that need the fewest lines and amplifiers. */
export function combinations(needs: Needs): readonly Combination[] {
  const { cores, fourthWire, amplifier, drivers } = needs;
  const windings: readonly Combination['winding'][] = [
    'shared-two-halves',
    'shared-one-run',
    ...(fourthWire ? (['separate-diagonal', 'separate-rectangular'] as const) : []),
  ];
  const kept = needs.keep['winding'] as { readonly kind?: unknown; readonly segments?: unknown } | undefined;
  const all = organisations(needs).flatMap(({ rows, columns }) =>
    [1, 2, 4]
      .filter((amplifiers) => amplifiers <= amplifier.most)
      .filter((amplifiers) => amplifiers === (kept?.segments ?? amplifiers))
      .flatMap((amplifiers) =>
        windings
          .filter((winding) => winding === (kept?.kind ?? winding))
          .filter((winding) => canBeCut(winding, { rows, columns }, amplifiers))
          .flatMap((winding) =>
            cores.map((_, core): Combination => ({ rows, columns, winding, core, amplifiers })),
          ),
      ),
  );
  const enough = all.filter(({ rows, columns }) => rows + columns + needs.bits <= (drivers.most ?? Infinity));
  return enough.slice(0, MOST_COMBINATIONS);
}

function canBeCut(
  winding: Combination['winding'],
  { rows, columns }: { readonly rows: number; readonly columns: number },
  pieces: number,
): boolean {
  const odd = rows % 2 === 1 || columns % 2 === 1;
  if (winding === 'shared-two-halves') return pieces === 1 && !odd;
  if (winding === 'shared-one-run') return Math.max(rows, columns) % pieces === 0;
  return !odd && (rows * columns) % pieces === 0;
}
