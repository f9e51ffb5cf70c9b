import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { designToJson } from '../../engine/design/design-to-json.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { applyOverrides } from '../../engine/strobe/case-overrides.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { openCase } from '../../web/model/open-case.ts';
import type { RawDesign } from '../../web/model/pointer.ts';

const folder = new URL('../../fixtures/designs/', import.meta.url);
const demo = (name: string): RawDesign =>
  JSON.parse(readFileSync(new URL(name, folder), 'utf8')) as RawDesign;

describe('a case opened as a design', () => {
  it.each(readdirSync(folder).filter((name) => !name.startsWith('carillon')))(
    'is the very run of the analysis, for the quick cases of %s',
    (name) => {
      const raw = demo(name);
      const design = checkDesign(raw);
      const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
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

const textOf = (design: Design): string => JSON.stringify(designToJson(design));
