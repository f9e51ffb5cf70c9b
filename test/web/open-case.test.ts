import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { advise } from '../../engine/advice/advice.ts';
import { applyChange } from '../../engine/advice/changes.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { designToJson } from '../../engine/design/design-to-json.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { applyOverrides } from '../../engine/strobe/case-overrides.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { applyDifferences, openCase } from '../../web/model/open-case.ts';
import type { RawDesign } from '../../web/model/pointer.ts';

/** Of which every case at every corner is opened; of the others those of the quick answer. */
const WHOLE = ['classroom-board-4x4.json', 'tide-recorder-16x16.json'];

const folder = new URL('../../fixtures/designs/', import.meta.url);
const demo = (name: string): RawDesign =>
  JSON.parse(readFileSync(new URL(name, folder), 'utf8')) as RawDesign;

describe('a case opened as a design', () => {
  it.each(readdirSync(folder).filter((name) => !name.startsWith('carillon')))(
    'is the very run of the analysis, for the cases of %s',
    (name) => {
      const raw = demo(name);
      const design = checkDesign(raw);
      const ensemble = runEnsemble(design, { simulate, cases: WHOLE.includes(name) ? 'corners' : 'quick' });
      if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
      expect(ensemble.cases.length).toBeGreaterThan(3);
      for (const { overrides } of ensemble.cases) {
        const opened = checkDesign(openCase(raw, design, overrides));
        expect(textOf(opened)).toBe(textOf(applyOverrides(design, overrides)));
      }
    },
  );

  it('leaves what is typed as it was typed', () => {
    const raw = demo('tide-recorder-16x16.json');
    const design = checkDesign(raw);
    const opened = openCase(raw, design, { initialState: 'disturbed' });
    expect(opened['drive']).toBe(raw['drive']);
    expect(openCase(raw, design, {})).toBe(raw);
  });
});

describe('a change made to the design as typed', () => {
  it('gives the changed design, with every other value as typed', () => {
    const raw = demo('minimal.json');
    const small = { ...raw, mat: { rows: 4, columns: 4 }, selected: { row: 1, column: 2 } };
    const design = checkDesign(small);
    const { changes } = advise(design, { wanted: { margin: 1, width: 0 }, trials: 1 });
    expect(changes.length).toBeGreaterThan(5);
    for (const change of changes) {
      const changed = applyChange(design, change);
      const made = applyDifferences(small, design, changed);
      expect(designToJson(checkDesign(made))).toEqual(designToJson(changed));
      expect(rawPart(made, 'core')).toBe(rawPart(small, 'core'));
    }
  });
});

const textOf = (design: Design): string => JSON.stringify(designToJson(design));

const rawPart = (raw: RawDesign, name: string): unknown => raw[name];
