import { describe, expect, it } from 'vitest';
import { DesignError } from '../../../engine/design/design-error.ts';
import { needsJsonSchema, readNeeds } from '../../../engine/propose/needs.ts';
import { readProposalNeeds } from '../../../engine/propose/read-proposal-needs.ts';
import { SMALL_NEEDS } from './small-needs.ts';

function refusalOf(change: object): Pick<DesignError, 'field' | 'message'> {
  try {
    readProposalNeeds(JSON.parse(JSON.stringify({ ...SMALL_NEEDS, ...change })));
  } catch (error) {
    if (error instanceof DesignError) return { field: error.field, message: error.message };
    throw error;
  }
  throw new Error('These needs are accepted.');
}

describe('a needs file', () => {
  it('is read into SI, with defaults where it says nothing', () => {
    const needs = readNeeds(SMALL_NEEDS);
    expect(needs).toMatchObject({
      cycle: 1e-5,
      temperature: { from: 20, to: 30 },
      want: { margin: 5e-3, width: 20e-9, yield: 0.5 },
      amplifier: { bandwidth: 20e6, gain: 100 },
      fourthWire: false,
      prefer: 'margin',
      keep: {},
    });
    expect(needs.raw).toEqual(SMALL_NEEDS);
  });

  it('may give its cycle as a rate', () => {
    expect(readNeeds({ ...SMALL_NEEDS, cycle: '100 kHz' }).cycle).toBeCloseTo(1e-5, 12);
  });

  it('is described by a JSON Schema that names what must be there', () => {
    expect(needsJsonSchema()).toMatchObject({
      type: 'object',
      required: expect.arrayContaining(['words', 'bits', 'cores', 'cycle', 'temperature', 'supply']),
    });
  });

  it.each([
    [
      'ends of the temperature that are exchanged',
      { temperature: { from: '30 degC', to: '20 degC' } },
      '/temperature/to',
      'exchange the two',
    ],
    [
      'a bare wire thicker than its insulation',
      { wire: { diameter: '0.1 mm', bareDiameter: '0.12 mm' } },
      '/wire/bareDiameter',
      'exchange the two',
    ],
    ['a mat that does not hold the words', { words: 9 }, '/mat', 'must hold all 9 words, but has 4 cores'],
    ['no supply', { supply: undefined }, '/supply', 'is missing; state it'],
    ['a field that is not known', { wrods: 4 }, '/wrods', 'did you mean "words"?'],
    ['too few drivers', { drivers: { most: 4 } }, '/drivers/most', 'allow more'],
    ['wire that fits no hole', { wire: { diameter: '1.2 mm' } }, '/wire/diameter', 'take thinner wire'],
    [
      'a core that no design has',
      { cores: [{ preset: 'ferrite-1-mil' }] },
      '/cores/0/preset',
      'ferrite-20-mil',
    ],
    ['what follows from the needs', { keep: { mat: { rows: 4 } } }, '/keep/mat/rows', 'state it as mat.rows'],
    [
      'a kept field without its unit',
      { keep: { drive: { x: { rise: '40' } } } },
      '/keep/drive/x/rise',
      'without a unit',
    ],
    [
      'a kept field that no design has',
      { keep: { drive: { x: { ris: '40 ns' } } } },
      '/keep/drive/x/ris',
      'did you mean "rise"?',
    ],
    [
      'a fourth wire that is kept and not allowed',
      { keep: { winding: { kind: 'separate-diagonal' } } },
      '/keep/winding/kind',
      'set fourthWire to true',
    ],
    [
      'a winding that cannot be threaded',
      { mat: { rows: 3, columns: 3 }, keep: { winding: { kind: 'shared-two-halves' } } },
      '/mat',
      'give mat even sides',
    ],
  ] as const)('%s is refused in one sentence at its field', (_, change, field, words) => {
    const refusal = refusalOf(change);
    expect(refusal.field).toBe(field);
    expect(refusal.message).toContain(words);
    expect(refusal.message).toMatch(/[.?]$/u);
  });
});
