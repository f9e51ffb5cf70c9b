import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { bindings } from '../../../engine/propose/bindings.ts';
import { build } from '../../../engine/propose/build.ts';
import { combinations } from '../../../engine/propose/combinations.ts';
import { runProposalJob } from '../../../engine/propose/jobs.ts';
import { readNeeds } from '../../../engine/propose/needs.ts';
import { timingOf } from '../../../engine/pack/timing.ts';
import { startOf } from '../../../engine/propose/start.ts';
import { SMALL_NEEDS } from './small-needs.ts';

const built = (change: object = {}) => {
  const needs = readNeeds({ ...SMALL_NEEDS, ...change });
  const [first] = combinations(needs);
  return build(needs, first!, startOf(needs, first!)!, { strobe: 312.4e-9, threshold: 21.26e-3 });
};

describe('a build', () => {
  it('is a file that makes the design that was judged, in values that can be bought and set', () => {
    const { file, design } = built();
    expect(checkDesign(JSON.parse(JSON.stringify(file)))).toEqual(design);
    const { drive, cycle, detector, strobe } = design;
    for (const time of [drive.x.rise, drive.inhibit.lead, cycle.readWidth, cycle.gap, cycle.writeWidth])
      expect(time / 5e-9).toBeCloseTo(Math.round(time / 5e-9), 6);
    expect(drive.x.readAmplitude / 1e-3).toBeCloseTo(Math.round(drive.x.readAmplitude / 1e-3), 6);
    expect([strobe.time, detector.threshold]).toEqual([312e-9, 21.3e-3]);
  });

  it('asks of itself what was asked: margin, window and yield, as designed, at the corners and of parts', () => {
    const { design } = built({ want: { margin: '4 mV', width: '30 ns', yield: 0.9 } });
    expect(design.requirement).toMatchObject({
      margin: 4e-3,
      width: 30e-9,
      yield: 0.9,
      sets: ['nominal', 'corners', 'parts'],
    });
    expect([design.temperature, design.tolerances.temperature]).toEqual([25, 5]);
  });

  it('is lengthened where its pulses do not fit into the cycle that is asked for, and that is told', () => {
    const needs = readNeeds({ ...SMALL_NEEDS, cycle: '0.8 us' });
    const [first] = combinations(needs);
    const { design } = build(needs, first!, startOf(needs, first!)!);
    expect(design.cycle.period).toBeGreaterThan(1.2e-6);
    const cycle = bindings(needs, design).find(({ code }) => code === 'cycle');
    expect(cycle!.limit).toBe(0.8e-6);
    expect(cycle!.excess).toBeGreaterThan(0.5);
  });

  it('has an inhibit that covers the write even where the edges of both are as slow as the timing sheet allows', () => {
    const { design } = built();
    const { edges } = timingOf(design, { time: 312e-9, interval: undefined });
    const slowest = (signal: string): number =>
      edges
        .filter((edge) => edge.signal === signal && edge.edge === 'on')
        .reduce(
          (most, { start, end }) => Math.max(most, ((end - start) * 3 * design.tolerances.edge) / 2),
          0,
        );
    const write = Math.max(slowest('x_write'), slowest('y_write'));
    for (const edge of edges.filter(({ signal }) => signal === 'inhibit'))
      expect(edge.tolerance).toBeGreaterThanOrEqual(slowest('inhibit') + write);
  });

  it('leaves what is kept as it is kept', () => {
    const { design } = built({ keep: { drive: { x: { rise: '70 ns' } }, terminations: { a: '91 ohm' } } });
    expect([design.drive.x.rise, design.terminations.a]).toEqual([70e-9, 91]);
  });

  it('starts with a current that the knee of its core just bears, and is worth a search', () => {
    const needs = readNeeds(SMALL_NEEDS);
    const [first] = combinations(needs);
    const result = runProposalJob({ step: 'try', needs: needs.raw, combination: first! });
    if (result.step === 'relax' || result.step === 'move' || result.found === null)
      throw new Error('Nothing was found.');
    expect(result.found.value).toBeGreaterThan(1);
    expect(result.found.binding.every(({ excess }) => excess <= 1e-9)).toBe(true);
    expect(result.found.proof).toBeUndefined();
    expect(runProposalJob({ step: 'try', needs: needs.raw, combination: first! })).toEqual(result);
  });
});
