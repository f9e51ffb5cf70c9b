import { describe, expect, it } from 'vitest';
import type { Json } from '../../../engine/base/json-patch.ts';
import { STUDY_KINDS, type StudyKind } from '../../../engine/studies/shared/shape.ts';
import {
  checkStudyOptions,
  listStudyOptions,
  studyOptionsSchema,
} from '../../../engine/studies/study-options.ts';
import { planStudy } from '../../../engine/studies/study.ts';
import { STUDY_FORMS } from '../../../web/studies/study-fields.ts';
import { madeUpDesign, madeUpTools } from './made-up-memory.ts';

const refusal = (kind: StudyKind, options: object): unknown => {
  try {
    checkStudyOptions({ kind, options: options as { [name: string]: Json } });
    return undefined;
  } catch (error) {
    const { code, field, message } = error as { code: string; field: string; message: string };
    return { code, field, message };
  }
};

const plan = (kind: StudyKind, options: { [name: string]: Json }) =>
  planStudy({ kind, design: madeUpDesign, options }, madeUpTools());

describe('options of a study', () => {
  it.each(STUDY_KINDS)('%s: each says what it means, takes and does when left out', (kind) => {
    const options = listStudyOptions(kind);
    expect(options.map(({ name }) => name)).toEqual(
      Object.keys(studyOptionsSchema(kind)['properties'] as object),
    );
    for (const { name, range, meaning, default: start } of options) {
      expect(meaning, name).toMatch(/^[A-Z].*\.$/u);
      expect(range, name).not.toMatch(/undefined|^$/u);
      expect(start, name).not.toMatch(/undefined|^$/u);
    }
  });

  it.each(STUDY_KINDS)('%s: a default that is written out is what a plan without it holds', (kind) => {
    const schema = studyOptionsSchema(kind)['properties'] as Readonly<Record<string, { default?: Json }>>;
    const given = Object.fromEntries(
      Object.entries(schema).flatMap(([name, node]) =>
        node.default === undefined ? [] : [[name, node.default]],
      ),
    );
    expect(Object.keys(given).length).toBeGreaterThan(2);
    expect(JSON.stringify(plan(kind, given))).toBe(JSON.stringify(plan(kind, {})));
  });

  it.each([
    [
      'rate',
      { from: 40 },
      'Study option from must be a time from 20 ns to 100 ms, or a rate such as "250 kHz", but is 40, a bare number without a unit; write for example "2 us".',
    ],
    [
      'rate',
      { from: '5 Hz' },
      'Study option from must be a time from 20 ns to 100 ms, or a rate such as "250 kHz", but is "5 Hz", a period of 200 ms; choose at most 100 ms.',
    ],
    [
      'temperature',
      { to: '900 degC' },
      'Study option to must be a temperature from -60 degC to 125 degC, but is "900 degC"; choose at most 125 degC.',
    ],
    [
      'scale',
      { strobe: 'early' },
      'Study option strobe must be one of "fixed", "best", but is "early"; choose one of them.',
    ],
    [
      'pattern',
      { marches: 'yes' },
      'Study option marches must be true or false, but is "yes"; write true or false without quotes.',
    ],
    [
      'sensitivity',
      { inputs: [3] },
      'Study option inputs/0 must be drive, drive.x, drive.y, inhibit, edges, core.threshold, core.flux, core.elastic, terminations, threshold, strobe, temperature, stagger, period, or the JSON pointer of a dimensional field such as /wire/mutualX, but is 3; name an input that a design has.',
    ],
    [
      'shmoo',
      { x: '/core/parameters/ringSpread', xTo: '1 V' },
      'Study option xTo must be a plain number, but is "1 V"; write it without quotes or unit.',
    ],
    [
      'tolerance',
      [],
      'Study options must be an object in braces, but is a list of 0; leave it out to get its defaults.',
    ],
  ] as const)('%s refuses %o in one sentence', (kind, options, message) => {
    expect(refusal(kind, options)).toMatchObject({ code: 'bad-option', message });
  });

  it('what is nested without end, or names a prototype, is refused', () => {
    const deep = JSON.parse(`${'['.repeat(30)}${']'.repeat(30)}`) as Json;
    expect(refusal('rate', { from: deep })).toMatchObject({ code: 'bad-option' });
    expect(refusal('rate', JSON.parse('{"__proto__": 1}') as object)).toMatchObject({
      code: 'unknown-option',
    });
  });

  it('every field of the page is an option, with the meaning of its schema and what holds while it is empty', () => {
    for (const { kind, fields } of STUDY_FORMS)
      for (const { name, help, start, choices } of fields) {
        const option = listStudyOptions(kind).find((each) => each.name === name)!;
        expect(help, name).toContain(option.meaning);
        // An empty field says what the study then does.
        if (start === '' && choices.length === 0)
          expect(help, name).toContain(`Left empty: ${option.default}.`);
      }
  });

  it('what a form starts with, typed as it stands, is what the schema takes', () => {
    for (const { kind, fields } of STUDY_FORMS) {
      const given = fields.flatMap(({ name, start, choices, read }) => {
        const text = start || (choices[0]?.[0] ?? '');
        return text === '' ? [] : [[name, read(text)] as const];
      });
      expect(refusal(kind, Object.fromEntries(given)), kind).toBeUndefined();
    }
  });
});

describe('a period given as a rate', () => {
  it('is the same study', () => {
    const asRates = plan('rate', { from: '500 kHz', to: '200 kHz' });
    expect(JSON.stringify(asRates)).toBe(JSON.stringify(plan('rate', { from: '2 us', to: '5 us' })));
  });

  it('is read on an axis of a map', () => {
    const options = { x: 'period', xFrom: '500 kHz', xTo: '200 kHz', y: 'drive' };
    expect(plan('shmoo', options).options['x']).toMatchObject({ from: 2e-6, to: 5e-6 });
  });
});
