import { describe, expect, it } from 'vitest';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { windowOf } from '../../engine/strobe/window-of.ts';
import type { Run } from '../../web/model/run.ts';
import { strobeStateAt } from '../../web/model/strobe-state.ts';
import { triedAddresses } from '../../web/model/tried-addresses.ts';
import { demo } from '../demo-design.ts';

describe('addresses at which cases were run', () => {
  it.each(['classroom-board-first-try-4x4'])(
    'of %s come no nearer to the threshold than the worst of its sets',
    (name) => {
      const design = demo(name);
      const ensemble = runEnsemble(design, { simulate, cases: 'full' });
      if (!('envelope' in ensemble)) throw new Error(ensemble.failed.name);
      const run = { design, ensemble } as unknown as Run;
      const window = windowOf(ensemble, { time: undefined, threshold: design.detector.threshold });
      const tried = triedAddresses(run, strobeStateAt(run, undefined, design.detector.threshold)!);
      const left = Math.min(window.margin.left, window.corners!.margin.left);
      // The sets count the strobe's jitter and aperture besides, which can only take more away.
      expect(tried[0]!.least).toBeGreaterThanOrEqual(left - 1e-6);
      expect(tried.map(({ least }) => least)).toEqual(tried.map(({ least }) => least).sort((a, b) => a - b));
      expect(new Set(tried.map(({ index }) => index)).size).toBe(tried.length);
      expect(tried.map(({ index }) => index)).toContain(
        design.selected.row * design.mat.columns + design.selected.column,
      );
    },
  );
});
