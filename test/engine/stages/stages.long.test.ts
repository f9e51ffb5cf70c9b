import { expect, it } from 'vitest';
import type { Json } from '../../../engine/base/json-patch.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import { fitDesign } from '../../../engine/fitting/fit-design.ts';
import { carryOver } from '../../../engine/stages/carry.ts';
import { stagesOf } from '../../../engine/stages/stage.ts';
import { demo } from '../../demo-design.ts';
import { record } from '../../physics/fit-helpers.ts';

it('a capture of the rig of another truth, fitted and carried over, brings the final design to that truth’s core and leaves the leads where they were', () => {
  const design = demo('common-practice-8x8');
  const rig = designToJson(stagesOf(design)[0]!.design) as Json;
  const planted = [
    { path: '/core/parameters/remanentFlux', value: '4.6 nWb' },
    { path: '/mat/leads/mutual', value: '18 nH' },
  ];
  const trace = record(rig, planted, {
    seed: 7,
    index: 0,
    noise: 1e-3,
    step: 1e-3,
    delay: 130e-9,
    offset: 2e-3,
  });
  const fit = fitDesign({
    design: rig,
    captures: [{ label: 'one', trace }],
    unknowns: ['coreFlux', 'leadCoupling'],
  });
  const { design: next, carried } = carryOver(design, 'rig', checkDesign(fit.design));
  expect(carried.map(({ unknown, stays }) => [unknown, stays === undefined])).toEqual([
    ['coreFlux', true],
    ['leadCoupling', false],
  ]);
  expect(next.core.parameters.remanentFlux / 4.6e-9).toBeCloseTo(1, 2);
  expect(carried[1]!.to / 18e-9).toBeCloseTo(1, 1);
  expect(next.mat.leads.mutual).toBe(0);
});
