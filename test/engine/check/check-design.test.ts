import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkDesign, parseDesignText } from '../../../engine/check/check-design.ts';
import { DesignError, type DesignProblem } from '../../../engine/design/design-error.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import { listDesignFields, type DesignFieldInfo } from '../../../engine/design/list-design-fields.ts';
import { designJsonSchema } from '../../../engine/design/schema/design-schema.ts';

const fixtures = join(import.meta.dirname, '../../../fixtures');
const read = (...path: string[]): string => readFileSync(join(fixtures, ...path), 'utf8');
const files = (folder: string): string[] =>
  readdirSync(join(fixtures, folder)).filter((name) => name.endsWith('.json') && name !== 'index.json');

function refusal(raw: unknown): DesignError {
  try {
    checkDesign(raw);
  } catch (error) {
    if (error instanceof DesignError) return error;
    throw error;
  }
  throw new Error('The design was accepted.');
}

describe('designs that do', () => {
  it.each(files('designs'))('accepts the demo design %s, which says that it is invented', (name) => {
    const design = parseDesignText(read('designs', name));
    expect(design.note).toMatch(/invented/iu);
    expect(design.name).not.toBe('untitled');
  });

  it('fills every default of an empty design', () => {
    const design = checkDesign({});
    expect(design.mat).toEqual({
      rows: 8,
      columns: 8,
      mats: 1,
      otherOnes: 0,
      pitch: 1.6 * 508e-6,
      spacing: 6e-3,
      leads: { length: 0.1, distance: 2e-3, mutual: 0 },
    });
    expect(design.terminations).toEqual({ a: 100, b: 100, joint: Infinity });
    expect(design.strobe.time).toBeUndefined();
    expect(design.programme).toEqual([{ row: 0, column: 0, lines: 'both', read: true, write: 'restore' }]);
  });

  it('gives SI whatever unit was typed', () => {
    const design = checkDesign({
      drive: { x: { rise: '0,04 us', readAmplitude: '0.37 A' } },
      mat: { pitch: '50 mil' },
    });
    expect(design.drive.x.rise).toBe(4e-8);
    expect(design.drive.x.readAmplitude).toBe(0.37);
    expect(design.drive.x.writeAmplitude).toBe(0.37);
    expect(design.mat.pitch).toBeCloseTo(1.27e-3, 15);
  });

  it('takes the current of a voltage source from its voltage and both resistances', () => {
    const source = { kind: 'voltage', voltage: '20 V', resistance: '49 ohm' };
    const { x } = checkDesign({ drive: { x: { source, resistance: '1 ohm' } } }).drive;
    expect(x.readAmplitude).toBeCloseTo(0.4, 12);
    expect(x.writeAmplitude).toBeCloseTo(0.4, 12);
  });

  it('takes the selected core from the last cycle where only the programme says it', () => {
    const design = checkDesign({
      programme: [
        { row: 1, column: 1, lines: 'x' },
        { row: 2, column: 3 },
      ],
    });
    expect(design.selected).toEqual({ row: 2, column: 3, bit: 1 });
  });

  it('reads a core from handbook values, with parameters that replace the fitted ones', () => {
    const handbook = JSON.parse(read('cores', 'core-20-12-5-mil.json')) as object;
    const { core } = checkDesign({ core: { handbook, parameters: { squareness: 0.9 } } });
    expect(core.parameters.squareness).toBe(0.9);
    expect(core.parameters.remanentFlux).toBeGreaterThan(0);
    expect(core.name).toContain('changed');
  });

  it('is frozen all the way down and leaves its input alone', () => {
    const raw = {
      drive: {
        x: {
          edge: {
            kind: 'table',
            points: [
              [0, 0],
              [1, 1],
            ],
          },
        },
      },
    };
    const before = JSON.stringify(raw);
    const design = checkDesign(raw);
    expect(JSON.stringify(raw)).toBe(before);
    expect(Object.isFrozen(raw.drive.x.edge.points)).toBe(false);
    const unfrozen: string[] = [];
    const visit = (value: unknown, path: string): void => {
      if (value === null || typeof value !== 'object') return;
      if (!Object.isFrozen(value)) unfrozen.push(path);
      for (const [key, item] of Object.entries(value)) visit(item, `${path}/${key}`);
    };
    visit(design, '');
    expect(unfrozen).toEqual([]);
    expect(() => Object.assign(design.mat, { rows: 3 })).toThrow(TypeError);
  });

  it('comes back from its own file with every digit', () => {
    const extra = [
      '{ "terminations": { "a": "short", "b": "open" }, "strobe": { "time": "117.3 ns" }, "numerics": { "sections": 7 } }',
      '{ "drive": { "y": { "source": { "kind": "voltage" }, "overshoot": { "fraction": 0.1 } }, "inhibit": { "clamp": "0.7 V" } } }',
      '{ "mat": { "rows": 1, "columns": 2 }, "winding": { "kind": "custom", "polarity": [[1, -1]], "order": [1, 0], "shared": true } }',
      '{ "amplifier": { "commonModeRejection": "ideal", "secondPole": "31.4159 MHz" }, "exceptions": [{ "row": 1, "column": 1, "bias": "-1.1 A" }] }',
    ];
    for (const text of [...files('designs').map((name) => read('designs', name)), ...extra]) {
      const design = parseDesignText(text);
      expect(checkDesign(JSON.parse(JSON.stringify(designToJson(design))))).toEqual(design);
    }
  });
});

describe('designs with one mistake', () => {
  const index = JSON.parse(read('designs-bad', 'index.json')) as Record<string, DesignProblem>;

  it('has a sentence for each of them, and at least twenty', () => {
    expect(Object.keys(index).sort()).toEqual(files('designs-bad').sort());
    expect(Object.keys(index).length).toBeGreaterThanOrEqual(20);
  });

  it.each(files('designs-bad'))('refuses %s with exactly its sentence', (name) => {
    let error: unknown;
    try {
      parseDesignText(read('designs-bad', name));
    } catch (caught) {
      error = caught;
    }
    expect(error).toBeInstanceOf(DesignError);
    const { code, field, message } = error as DesignError;
    expect({ code, field, message }).toEqual(index[name]);
  });

  it('says each in one sentence of one line', () => {
    for (const { message } of Object.values(index)) expect(message).toMatch(/^[^\n]+[.?]$/u);
  });
});

describe('refusing', () => {
  it('lists every problem and speaks of the first', () => {
    const error = refusal({ mat: { rows: 0 }, drive: { x: { rise: 40 } }, colour: 'red' });
    expect(error.problems.map((problem) => problem.field)).toEqual(['/mat/rows', '/drive/x/rise', '/colour']);
    expect(error.message).toBe(error.problems[0].message);
    expect(error.limit).toBe('a whole number from 1 to 256');
  });

  it('names the nearest known field', () => {
    const near = (raw: unknown): string => refusal(raw).message;
    expect(near({ strobe: { tiem: '1 ns' } })).toBe('"tiem" is not a field of strobe; did you mean "time"?');
    expect(near({ cycle: { periode: '1 us' } })).toContain('did you mean "period"?');
    expect(near({ drive: { x: { amplitude: '1 A' } } })).toMatch(/did you mean "(read|write)Amplitude"\?/u);
  });

  it('tells line and column of a slip in JSON', () => {
    const where = (text: string): string => {
      try {
        parseDesignText(text);
        return 'accepted';
      } catch (error) {
        return (error as DesignError).message;
      }
    };
    expect(where('{"name": "x",}')).toContain('line 1, column 14 has "}"');
    expect(where(`{\n  "name": "x",\n  "note": 'y'\n${' '.repeat(100)}}`)).toContain(
      `line 3, column 11 has "'y'`,
    );
    expect(where('')).toContain('it is empty');
    expect(where('\uFEFF{}')).toBe('accepted');
  });

  it('is not fooled by names that objects inherit', () => {
    for (const name of ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty']) {
      const error = refusal(JSON.parse(`{ "mat": { "${name}": { "rows": 4 } } }`));
      expect(error.field).toBe(`/mat/${name}`);
      expect(refusal(JSON.parse(`{ "terminations": { "a": "${name}" } }`)).field).toBe('/terminations/a');
    }
    expect(({} as Record<string, unknown>).rows).toBeUndefined();
  });

  it('refuses what is too deep, too large, too long or refers to itself before looking further', () => {
    const deep = JSON.parse(`${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`) as unknown;
    const loop: Record<string, unknown> = {};
    loop.mat = loop;
    const wide = { winding: { order: Array.from({ length: 100_000 }, (_, i) => i) } };
    for (const raw of [deep, loop, wide, { note: 'x'.repeat(10_000) }])
      expect(refusal(raw).code).toBe('too-large');
  });

  it('refuses what JSON cannot say', () => {
    for (const raw of [() => 1, { mat: new Map() }, { name: Symbol('x') }, { mat: { rows: 8n } }])
      expect(refusal(raw).code).toBe('shape');
    const hostile = {
      get mat(): never {
        throw new Error('secret');
      },
    };
    expect(refusal(hostile).message).not.toContain('secret');
    expect(refusal({ mat: { rows: Number.NaN } }).field).toBe('/mat/rows');
  });

  it('throws nothing but DesignError, whatever JSON it is given', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 5 }), (raw) => onlyDesignErrors(raw)),
      { numRuns: 500 },
    );
  });

  it('throws nothing but DesignError when any one field is given any value', () => {
    const fields = listDesignFields();
    fc.assert(
      fc.property(
        fc.constantFrom(...fields),
        fc.oneof(fc.jsonValue({ maxDepth: 3 }), fc.constantFrom('1 ns', '1 mA', 'open')),
        (field, value) => onlyDesignErrors(nest(field.path.split('.'), value)),
      ),
      { numRuns: 2000 },
    );
  });

  it('throws nothing but DesignError on edges, tables and programmes of any legal shape', () => {
    const fraction = fc.double({ min: -0.5, max: 1, noNaN: true });
    const points = fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fraction), {
      minLength: 2,
      maxLength: 5,
    });
    const cycle = fc.record({ row: fc.nat(9), column: fc.nat(9), lines: fc.constantFrom('both', 'x', 'y') });
    const raw = fc.record({
      drive: fc.record({
        x: fc.record({ edge: fc.record({ kind: fc.constantFrom('table', 'linear'), points }) }),
      }),
      programme: fc.array(cycle, { maxLength: 3 }),
    });
    fc.assert(fc.property(raw, onlyDesignErrors), { numRuns: 500 });
  });
});

function onlyDesignErrors(raw: unknown): void {
  try {
    checkDesign(raw);
  } catch (error) {
    expect(error).toBeInstanceOf(DesignError);
    expect((error as DesignError).message).toMatch(/^[^\n]+[.?]$/u);
  }
}

const nest = (path: readonly string[], value: unknown): unknown =>
  path.reduceRight<unknown>((inner, name) => ({ [name]: inner }), value);

describe('the schema', () => {
  const fields = listDesignFields();
  const accepts = (field: DesignFieldInfo, value: unknown): void => {
    try {
      checkDesign(nest(field.path.split('.'), value));
    } catch (error) {
      // Rules between fields may object to a value that is in range on its own.
      expect((error as DesignError).problems.map((problem) => problem.code)).not.toContain('value');
      expect((error as DesignError).problems.map((problem) => problem.code)).not.toContain('unknown-field');
    }
  };

  it('describes every field', () => {
    expect(fields.length).toBeGreaterThan(120);
    expect(fields.filter((field) => field.description === '')).toEqual([]);
  });

  it('takes its own defaults for what the design has anyway', () => {
    const plain = checkDesign({});
    const given = fields.filter((field) => field.default !== undefined);
    expect(given.length).toBeGreaterThan(80);
    for (const field of given)
      expect(checkDesign(nest(field.path.split('.'), field.default)), field.path).toEqual(plain);
  });

  it('takes both ends of every range of a quantity, and nothing outside', () => {
    const quantities = fields.filter(
      (field) => field.kind === 'quantity' && !field.path.startsWith('core.handbook'),
    );
    expect(quantities.length).toBeGreaterThan(70);
    for (const field of quantities) {
      accepts(field, field.min);
      accepts(field, field.max);
      expect(refusal(nest(field.path.split('.'), 3)).field).toBe(field.pointer);
      expect(refusal(nest(field.path.split('.'), '9e99 ohm')).field).toBe(field.pointer);
      for (const word of field.options) accepts(field, word);
    }
  });

  it('takes both ends of every range of a number, and refuses one more', () => {
    const numbers = fields.filter((field) => field.kind === 'count' || field.kind === 'ratio');
    expect(numbers.length).toBeGreaterThan(15);
    for (const field of numbers.filter(({ path }) => !path.startsWith('core.handbook'))) {
      accepts(field, field.min);
      accepts(field, field.max);
      for (const beyond of [Number(field.max) + 1, Number(field.min) - 1])
        expect(refusal(nest(field.path.split('.'), beyond)).field).toBe(field.pointer);
    }
  });

  it('is JSON Schema that forbids unknown fields at every level', () => {
    const open: string[] = [];
    const visit = (node: unknown, path: string): void => {
      if (node === null || typeof node !== 'object') return;
      const schema = node as Record<string, unknown>;
      if (schema.type === 'object' && schema.properties && schema.additionalProperties !== false)
        open.push(path);
      for (const [key, child] of Object.entries(schema)) visit(child, `${path}/${key}`);
    };
    const schema = designJsonSchema();
    visit(schema, '');
    expect(open).toEqual([]);
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  });
});
