/** Polarity from how cores lean and wires run, against vectors: a core's axis times the direction of each wire. */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { DesignError } from '../../../engine/design/design-error.ts';
import { polarityOfThreading } from '../../../engine/mat/threading.ts';

const DIRECTION = { '>': [1, 0], '<': [-1, 0], v: [0, 1], '^': [0, -1] } as const;
/** Right and down; `/` runs from lower left to upper right, and its axis is square to that. */
const AXIS = { '/': [1, 1], '\\': [1, -1] } as const;

const snake = [0, 1, 3, 2];
const two = {
  lean: ['/\\', '\\/'],
  x: [1, -1],
  y: [1, -1],
  wire: ['>>', '<<'],
};
const custom = (threading: object): object => ({
  mat: { rows: 2, columns: 2 },
  winding: { kind: 'custom', shared: false, order: snake, threading },
});
const sentence = (raw: object): string => {
  try {
    checkDesign(raw);
  } catch (error) {
    if (error instanceof DesignError) return error.message;
  }
  return '';
};

describe('polarity of a threading', () => {
  it('is the side from which the sense wire comes over the side from which X and Y come', () => {
    const { polarity, opposed } = polarityOfThreading(two);
    expect(opposed).toBeUndefined();
    two.lean.forEach((letters, r) =>
      Array.from(letters).forEach((letter, c) => {
        const axis = AXIS[letter as '/' | '\\'];
        const along = ([right, down]: readonly [number, number]): number =>
          Math.sign(axis[0] * right + axis[1] * down);
        const x = along([two.x[r], 0]);
        const y = along([0, two.y[c]]);
        expect(x).toBe(y);
        expect(polarity[r][c]).toBe(along(DIRECTION[two.wire[r][c] as '>']) * x);
      }),
    );
  });

  it('alternates where lines alternate and the sense wire runs one way, and is constant where it goes with them', () => {
    // Cores lean so that X and Y agree: rows to the right and left by turns, columns all down.
    const rows = ['////', '\\\\\\\\', '////', '\\\\\\\\'];
    const lines = { lean: rows, x: [1, -1, 1, -1], y: [1, 1, 1, 1] };
    const along = polarityOfThreading({ ...lines, wire: ['>>>>', '<<<<', '>>>>', '<<<<'] });
    expect(along.opposed).toBeUndefined();
    expect(new Set(along.polarity.flat())).toEqual(new Set([1]));
    const straight = polarityOfThreading({ ...lines, wire: Array<string>(4).fill('>>>>') });
    expect(straight.polarity.map((row) => row[0])).toEqual([1, -1, 1, -1]);
  });

  it('becomes the polarity of a custom winding', () => {
    expect(checkDesign(custom(two)).winding.polarity).toEqual(polarityOfThreading(two).polarity);
  });

  it('is refused where X and Y oppose each other, with the core, and where it does not fit the mat', () => {
    expect(sentence(custom({ ...two, lean: ['/\\', '\\\\'] }))).toContain(
      'at row 1, column 1 they oppose each other',
    );
    expect(sentence(custom({ ...two, x: [1] }))).toContain('winding.threading.x must have 2 entries');
    expect(sentence(custom({ ...two, wire: ['>>', '<'] }))).toContain(
      'winding.threading.wire must have 2 texts of 2 letters',
    );
    expect(sentence(custom({ ...two, lean: ['/x', '\\/'] }))).toContain('letters / or \\');
  });
});
