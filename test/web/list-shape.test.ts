import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import { designFieldGroups } from '../../web/model/design-fields.ts';
import { listShape } from '../../web/model/list-shape.ts';
import { rawAt, withValueAt, type RawDesign } from '../../web/model/pointer.ts';

const lists = designFieldGroups().flatMap(({ fields }) => fields.filter(({ kind }) => kind === 'list'));
const shapeOf = (pointer: string) => {
  const field = lists.find((item) => item.pointer === pointer)!;
  return listShape(field.node!, pointer.slice(pointer.lastIndexOf('/') + 1));
};
const minimal = JSON.parse(
  readFileSync(new URL('../../fixtures/designs/minimal.json', import.meta.url), 'utf8'),
) as RawDesign;

/** A value of every list of the design as a file would hold it. */
const EXAMPLES: Readonly<Record<string, unknown>> = {
  '/core/handbook/grades': { peak: 'B: a bench of ours', 'turn/over': 'C' },
  '/core/range': {
    coerciveDrive: { low: '480 mA', high: '530 mA', from: 'measured' },
    ringSpread: { low: 0.05, high: 0.2, from: 'assumed' },
  },
  '/winding/polarity': [
    [1, -1],
    [-1, 1],
  ],
  '/winding/order': [0, 1, 3, 2],
  '/drive/x/edge/points': [
    [0, 0],
    [0.5, 0.8],
    [1, 1],
  ],
  '/drive/y/edge/points': [
    [0, 0],
    [1, 1],
  ],
  '/drive/inhibit/edge/points': [
    [0, 0],
    [1, 1],
  ],
  '/drive/x/read/points': [
    [0, 0],
    [40, -370],
    [80, 0],
  ],
  '/drive/x/write/points': [
    [0, 0],
    [40, -370],
    [80, 0],
  ],
  '/drive/y/read/points': [
    [0, 0],
    [40, -370],
    [80, 0],
  ],
  '/drive/y/write/points': [
    [0, 0],
    [40, -370],
    [80, 0],
  ],
  '/mat/populated/columns': [2, 5],
  '/mat/populated/cores': [
    { row: 0, column: 1 },
    { row: 3, column: 2 },
  ],
  '/mat/populated/rows': [0, 3],
  '/requirement/sets': ['nominal', 'core'],
  '/winding/threading/lean': ['/\\\\', '\\\\/'],
  '/winding/threading/wire': ['>>', '<<'],
  '/winding/threading/x': [1, -1],
  '/winding/threading/y': [-1, 1],
  '/stored/rows': ['0110', '1001'],
  '/programme': [
    { row: 1, column: 2, lines: 'x', read: false, write: 'none' },
    { row: 3, column: 5 },
  ],
  '/exceptions': [
    { row: 1, column: 2, bias: '-0,4 A' },
    { row: 2, column: 2, missing: true, fluxFactor: 0.8 },
  ],
};

describe('a list of a design laid out as rows', () => {
  it('has an example here for every list that a design can hold', () => {
    expect(lists.map(({ pointer }) => pointer).sort()).toEqual(Object.keys(EXAMPLES).sort());
  });

  it.each(Object.entries(EXAMPLES))('brings %s back as it was typed', (pointer, value) => {
    const shape = shapeOf(pointer);
    const rows = shape.read(value)!;
    expect(rows.every((cells) => cells.length === shape.columns.length)).toBe(true);
    expect(shape.write(rows)).toEqual(value);
    expect(shape.write([])).toBeUndefined();
    expect(shape.read('not a list')).toBeUndefined();
  });

  it('takes a whole programme cell by cell, and one that the check accepts', () => {
    const shape = shapeOf('/programme');
    const raw = withValueAt(minimal, '/programme', shape.write([shape.first, ['3', '5', '', '', 'one']]));
    expect(rawAt(raw, '/programme')).toEqual([
      { row: 0, column: 0 },
      { row: 3, column: 5, write: 'one' },
    ]);
    expect(checkDesign(raw).programme).toHaveLength(2);
  });

  it('lets the design’s own check refuse what is typed wrong, with the pointer of its cell', () => {
    const shape = shapeOf('/exceptions');
    const bias = shape.columns.findIndex(({ label }) => label === 'Bias');
    const cells = shape.first.map((text, i) => (i === bias ? '3' : text));
    const raw = withValueAt(minimal, '/exceptions', shape.write([cells]));
    try {
      checkDesign(raw);
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(DesignError);
      const { field, message } = (error as DesignError).problems[0]!;
      expect(field).toBe(`/exceptions${shape.pointer(0, bias)}`);
      expect(message).toMatch(/must be a current from -50 A to 50 A, but is 3|bare number/);
    }
  });

  it('keeps signs that are none as typed, and reads a true minus', () => {
    const shape = shapeOf('/winding/polarity');
    expect(shape.write([['+ − -'], ['+x']])).toEqual([[1, -1, -1], '+x']);
    expect(shape.read([[1, -1, -1], '+x'])).toEqual([['+--'], ['+x']]);
  });
});
