import { describe, expect, it } from 'vitest';
import { applyPatches, type Patch } from '../../../engine/base/json-patch.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { fitDesign } from '../../../engine/fitting/fit-design.ts';
import { capture, SMALL } from '../../independent/builds.ts';

/** A fit of the design to a build, by the independent integrator, whose flux is so many times the design's. */
function fitTo(times: number, more: readonly Patch[] = []) {
  const flux = checkDesign(SMALL).core.parameters.remanentFlux * times;
  const file = applyPatches(SMALL, [{ path: '/core/parameters/remanentFlux', value: `${flux} Wb` }, ...more]);
  const captures = ([1, 0] as const).map((bit) => {
    const changes: Patch[] = [{ path: '/selected/bit', value: bit }];
    return { label: `a ${bit}`, trace: capture(file, changes, { until: 500e-9 }), changes };
  });
  return fitDesign({ design: SMALL, captures, unknowns: ['coreFlux', 'coreRate'] });
}

describe('a fit beside what the design says of its core', () => {
  it('says where captures contradict it', () => {
    expect(fitTo(1.4).statements.join('\n')).toMatch(
      /coreFlux is found at .* outside the range that the design has for it .* contradict the design/u,
    );
  });

  it('says nothing of it where they agree', () => {
    expect(fitTo(1.02).statements.join('\n')).not.toMatch(/outside the range/u);
  });

  it('finds an edge that was left to a default, and says that it changed it', () => {
    const { statements, design, unknowns } = fitTo(1, [
      { path: '/drive/x/rise', value: '30 ns' },
      { path: '/drive/y/rise', value: '30 ns' },
    ]);
    expect(statements.join('\n')).toMatch(/Not asked for, but settled by the captures.*rise time of X/u);
    const { x, y } = checkDesign(design).drive;
    for (const { rise } of [x, y]) expect(Math.abs(rise / 30e-9 - 1)).toBeLessThan(0.03);
    const rate = unknowns.find(({ name }) => name === 'coreRate')!;
    const truth = checkDesign(SMALL).core.parameters.switchingResistance;
    expect(rate.interval.low).toBeLessThan(truth);
    expect(rate.interval.high).toBeGreaterThan(truth);
  });
});
