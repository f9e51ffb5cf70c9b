import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { applyOverrides } from '../../../engine/strobe/case-overrides.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { ratePeriods } from '../../../engine/strobe/rates.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { demo } from '../../demo-design.ts';
import { lightDesignFile } from '../../soak/light-design.ts';
import { heard } from './heard.ts';

const ns = 1e-9;

const board = demo('classroom-board-first-try-4x4');

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

describe('the corners over what is not known of a core', () => {
  // Seed 45: only the drive strays, and the worst case of one bit is the design as it stands.
  it('have a worst case of either bit where no corner is worse than as designed', () => {
    const design = checkDesign(lightDesignFile(45));
    expect(design.tolerances).toMatchObject({ supply: 0, temperature: 0 });
    const { core, corners } = strobeWindow(design).verdict.sets;
    expect(core!.low).toBeLessThanOrEqual(corners!.margin);
    expect(core!.high).toBeGreaterThanOrEqual(corners!.margin);
  });
});
