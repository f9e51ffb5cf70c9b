import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyOverrides } from '../../../engine/strobe/case-overrides.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { ratePeriods } from '../../../engine/strobe/rates.ts';

const ns = 1e-9;

function demo(name: string, patch: object = {}): Design {
  const path = new URL(`../../../fixtures/designs/${name}.json`, import.meta.url);
  return checkDesign({ ...JSON.parse(readFileSync(path, 'utf8')), ...patch });
}

/** The amplifier's output of a design alone, referred to the sense wire, at a strobe time, V. */
function heard(design: Design, strobe: number): number {
  const { divider, gain } = design.amplifier;
  const run = simulate(design, { contributions: false, estimateError: false });
  return valueAt(run.time, run.amplifierOutput, strobe - design.detector.delay) / (divider * gain);
}

const board = demo('classroom-board-4x4');

describe('a shorter cycle', () => {
  it('is that of a design whose period is the shorter one, for the read after an inhibited cycle', () => {
    const period = ratePeriods(board).at(-1)!;
    const ensemble = runEnsemble(board, { simulate });
    if (!('envelope' in ensemble)) throw new Error('the demo must run');
    const { envelope } = ensemble.rates.at(-1)!;
    const after = ensemble.cases.find((c) => c.bit === 0 && c.spec.previous === 'inhibited' && !c.corner)!;
    const faster = applyOverrides(board, { ...after.overrides, cycle: { period } });
    for (const t of [100, 200, 300, 541].map((at) => at * ns))
      expect(heard(faster, t)).toBeLessThanOrEqual(
        valueAt(envelope.time, envelope.zero, t - board.detector.delay) + 1e-6,
      );
  });
});
