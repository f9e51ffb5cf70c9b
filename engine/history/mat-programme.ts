import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';

/** What a pass over the mat does at each address; data are relative to the programme's background. */
export interface MatPass {
  readonly order: 'up' | 'down';
  /** What the read should give; undefined: the read only clears the core and is not judged. */
  readonly expects?: 'same' | 'inverse';
  /** What is written after the read. */
  readonly write: 'same' | 'inverse';
}

/** A programme over every address of a mat: passes in order, each over all addresses. */
export interface MatProgramme {
  readonly name: string;
  /** The bit that 'same' stands for at an address. */
  readonly background: 'zeros' | 'ones' | 'checkerboard';
  readonly passes: readonly MatPass[];
}

const both = (order: 'up' | 'down'): MatPass[] => [
  { order, expects: 'same', write: 'inverse' },
  { order, expects: 'inverse', write: 'same' },
];
const clear: MatPass = { order: 'up', write: 'same' };
const verify: MatPass = { order: 'up', expects: 'same', write: 'same' };

/**
 * Programmes that every memory is tried with (common practice, no source). A march turns every bit over and back in
 * rising and in falling order of address, so that each core is read after all that its neighbours can do to it; a
 * checkerboard is written, read and restored four times, and so is its inverse.
 */
export const MAT_PROGRAMMES: readonly MatProgramme[] = [
  { name: 'march', background: 'zeros', passes: [clear, ...both('up'), ...both('down'), verify] },
  { name: 'checkerboard', background: 'checkerboard', passes: [clear, verify, verify, verify, verify] },
  {
    name: 'checkerboard, inverted',
    background: 'checkerboard',
    passes: [
      { order: 'up', write: 'inverse' },
      ...Array.from({ length: 4 }, (): MatPass => ({ order: 'up', expects: 'inverse', write: 'inverse' })),
    ],
  },
];

/** One cycle of a programme, and the bit that its read should give. */
export interface MatStep {
  readonly pass: number;
  readonly cycle: Cycle;
  readonly expects: 0 | 1 | undefined;
}

/** Cycles in a programme on a mat. */
export const stepsOf = (programme: MatProgramme, mat: Design['mat']): number =>
  programme.passes.length * mat.rows * mat.columns;

/** Step number `n` of a programme. */
export function matStep(programme: MatProgramme, mat: Design['mat'], n: number): MatStep {
  const cores = mat.rows * mat.columns;
  const number = Math.floor(n / cores);
  const pass = programme.passes[number]!;
  const at = pass.order === 'up' ? n % cores : cores - 1 - (n % cores);
  const row = Math.floor(at / mat.columns);
  const column = at % mat.columns;
  const { background } = programme;
  const same = background === 'checkerboard' ? (row + column) % 2 : background === 'ones' ? 1 : 0;
  const bit = (what: 'same' | 'inverse'): 0 | 1 => ((what === 'same' ? same : 1 - same) === 1 ? 1 : 0);
  return {
    pass: number,
    cycle: { row, column, lines: 'both', read: true, write: bit(pass.write) === 1 ? 'one' : 'zero' },
    expects: pass.expects && bit(pass.expects),
  };
}
