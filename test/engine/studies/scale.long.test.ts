import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { applyPatches } from '../../../engine/base/json-patch.ts';
import type { Json } from '../../../engine/base/json-patch.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { evaluatePoint, planStudy } from '../../../engine/studies/study.ts';

const raw = (name: string): Json =>
  JSON.parse(
    readFileSync(new URL(`../../../fixtures/designs/${name}.json`, import.meta.url), 'utf8'),
  ) as Json;
const WINDINGS = ['shared-one-run', 'shared-two-halves', 'separate-diagonal'];
/** V: mats that fail by more are only said to fail. */
const FAR = -10e-3;

describe('margins of a scale study', () => {
  it.each([
    ['tide-recorder-16x16', [8, 32]],
    ['tide-recorder-first-try-16x16', [8, 16]],
  ] as const)(
    'are those of strobe windows run one by one at the same strobe and threshold: %s',
    (name, sizes) => {
      const design = raw(name);
      const plan = planStudy({
        kind: 'scale',
        design,
        options: { sizes, windings: WINDINGS, largest: false },
      });
      for (const [i, { patches, name: mat }] of plan.points.entries()) {
        const { values } = evaluatePoint(plan, i);
        const held = applyPatches(design, [
          ...patches,
          { path: '/strobe/time', value: `${Number(values.strobe)} s` },
          { path: '/detector/threshold', value: `${Number(values.threshold)} V` },
        ]);
        const { nominal, corners } = strobeWindow(checkDesign(held), { cases: 'corners' }).verdict.sets;
        // A window tries all cases together: it may find a little less.
        expect(Math.abs(Number(values.margin) - nominal.margin), mat).toBeLessThan(0.05e-3);
        if (corners!.margin > FAR)
          expect(Math.abs(Number(values.cornerMargin) - corners!.margin), mat).toBeLessThan(0.2e-3);
        else expect(Number(values.cornerMargin), mat).toBeLessThan(FAR);
      }
    },
  );
});
