import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { advise } from '../../engine/advice/advice.ts';
import { applyChange } from '../../engine/advice/changes.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { designToJson } from '../../engine/design/design-to-json.ts';
import { applyOverrides } from '../../engine/strobe/case-overrides.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { applyDifferences, openCase } from '../../web/model/open-case.ts';
import type { RawDesign } from '../../web/model/pointer.ts';

const demo = (name: string): RawDesign =>
  JSON.parse(
    readFileSync(new URL(`../../fixtures/designs/${name}.json`, import.meta.url), 'utf8'),
  ) as RawDesign;

describe('a case opened as a design', () => {
  it.each(['classroom-board-first-try-4x4', 'tide-recorder-16x16'])(
    'is the very run of the analysis, for every case at every corner of %s',
    (name) => {
      const raw = demo(name);
      const design = checkDesign(raw);
      const ensemble = runEnsemble(design, { simulate, cases: 'corners' });
      if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
      expect(ensemble.cases.filter(({ corner }) => corner).length).toBeGreaterThan(3);
      for (const { overrides } of ensemble.cases) {
        const opened = checkDesign(openCase(raw, design, overrides));
        expect(designToJson(opened)).toEqual(designToJson(applyOverrides(design, overrides)));
      }
    },
  );
});

describe('a change made to the design as typed', () => {
  it('gives the changed design, with every other value as typed', () => {
    const small = { ...demo('minimal'), mat: { rows: 4, columns: 4 }, selected: { row: 1, column: 2 } };
    const design = checkDesign(small);
    const { changes } = advise(design, { wanted: { margin: 1, width: 0 }, trials: 1 });
    expect(changes.length).toBeGreaterThan(5);
    for (const change of changes) {
      const changed = applyChange(design, change);
      const made = applyDifferences(small, design, changed);
      expect(designToJson(checkDesign(made))).toEqual(designToJson(changed));
      expect(made['core']).toBe((small as RawDesign)['core']);
    }
  });
});
