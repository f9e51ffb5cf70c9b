import type { Design } from '../../design/design.ts';
import type { Cycle } from '../../design/drive.ts';
import type { WindingKind } from '../../design/mat.ts';
import { storedBits, worstPattern } from '../../mat/stored-pattern.ts';
import { randomStream } from '../../numerics/random.ts';
import type { StudyPlan } from '../shared/shape.ts';
import { isWholeMat } from './whole-mat.ts';

/**
 * Which stored pattern and which history hurt: checkerboard and its kin, the worst pattern of this winding and of
 * the others, each undisturbed and disturbed, and march programmes. A checkerboard is not the worst case by itself
 * (MIT memo M-2919, 1954, abstract read). Every pattern is read as ONE and as ZERO at the nominal strobe.
 */

export type PatternName =
  | 'zeros'
  | 'ones'
  | 'checkerboard'
  | 'checkerboard, inverted'
  | 'double checkerboard'
  | 'row stripes'
  | 'column stripes'
  | 'quadrants'
  | `random ${number}`
  | `worst for a ${'ONE' | 'ZERO'}`
  | `worst for ${WindingKind}`
  | `march ${'up' | 'down'}, ${'ZERO to ONE' | 'ONE to ZERO'}`
  | `whole mat, ${string}`;

export const PLAIN: readonly PatternName[] = [
  'zeros',
  'ones',
  'checkerboard',
  'checkerboard, inverted',
  'double checkerboard',
  'row stripes',
  'column stripes',
  'quadrants',
];

export const MARCHES: readonly PatternName[] = [
  'march up, ZERO to ONE',
  'march up, ONE to ZERO',
  'march down, ZERO to ONE',
  'march down, ONE to ZERO',
];

export const BALANCED: readonly WindingKind[] = [
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
];

/** Stored bits and, for a march, the cycles that lead to the observed read. */
export function arrange(
  plan: StudyPlan,
  base: Design,
  name: PatternName,
  bit: 0 | 1,
): { design: Design; bits: Uint8Array } {
  if (isWholeMat(name))
    return { design: { ...base, selected: { ...base.selected, bit } }, bits: storedBits(base) };
  const selected = { ...base.selected, bit };
  const design: Design = { ...base, selected };
  const bits = bitsOf(design, name, plan.seed);
  bits[selected.row * design.mat.columns + selected.column] = bit;
  if (!name.startsWith('march')) return { design, bits };
  const programme = [...marchCycles(plan, design, name), base.programme.at(-1)!];
  return { design: { ...design, programme }, bits };
}

/**
 * The cycles of one march element before it reaches the selected core, of those on its row and column, for no
 * others reach its half-selected cores: each is read and written the other way, in the order of addresses.
 */
function marchCycles(plan: StudyPlan, { mat, selected }: Design, name: PatternName): Cycle[] {
  const own = selected.row * mat.columns + selected.column;
  const up = name.includes('up');
  const cycles: Cycle[] = [];
  for (let core = 0; core < mat.rows * mat.columns; core++) {
    const [row, column] = [Math.floor(core / mat.columns), core % mat.columns];
    const onLine = (row === selected.row) !== (column === selected.column);
    if (!onLine || (up ? core > own : core < own)) continue;
    cycles.push({ row, column, lines: 'both', read: true, write: name.includes('to ONE') ? 'one' : 'zero' });
  }
  return (up ? cycles : cycles.reverse()).slice(-Number(plan.options.marchCycles));
}

function bitsOf(design: Design, name: PatternName, seed: number): Uint8Array {
  const { rows, columns } = design.mat;
  const fill = (bit: (row: number, column: number) => number): Uint8Array =>
    Uint8Array.from({ length: rows * columns }, (_, i) => bit(Math.floor(i / columns), i % columns));
  switch (name) {
    case 'zeros':
    case 'march up, ZERO to ONE':
    case 'march down, ZERO to ONE':
      return fill(() => 0);
    case 'ones':
    case 'march up, ONE to ZERO':
    case 'march down, ONE to ZERO':
      return fill(() => 1);
    case 'checkerboard':
      return fill((r, c) => (r + c) % 2);
    case 'checkerboard, inverted':
      return fill((r, c) => (r + c + 1) % 2);
    case 'double checkerboard':
      return fill((r, c) => ((r >> 1) + (c >> 1)) % 2);
    case 'row stripes':
      return fill((r) => r % 2);
    case 'column stripes':
      return fill((_, c) => c % 2);
    case 'quadrants':
      return fill((r, c) => (r < rows / 2 === c < columns / 2 ? 1 : 0));
    case 'worst for a ONE':
      return worstPattern(design, 'one');
    case 'worst for a ZERO':
      return worstPattern(design, 'zero');
    default: {
      if (name.startsWith('random ')) {
        const next = randomStream(seed, Number(name.slice('random '.length)));
        return fill(() => (next() < 0.5 ? 0 : 1));
      }
      const kind = name.slice('worst for '.length) as WindingKind;
      return worstPattern({ ...design, winding: { kind, segments: 1 } }, 'zero');
    }
  }
}
