import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import { makeMatHistory } from '../../../engine/history/mat-history.ts';
import {
  MAT_PROGRAMMES,
  matStep,
  stepsOf,
  type MatProgramme,
} from '../../../engine/history/mat-programme.ts';
import { testMat } from '../../../engine/history/mat-test.ts';
import { storedBits } from '../../../engine/mat/stored-pattern.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { evaluatePoint, planStudy, summarise, STUDY_TOOLS } from '../../../engine/studies/study.ts';

const small = (raw: object = {}): Design =>
  checkDesign({
    core: { preset: 'ferrite-20-mil' },
    mat: { rows: 4, columns: 4 },
    winding: { kind: 'shared-one-run' },
    selected: { row: 1, column: 2 },
    stored: { kind: 'random', seed: 5 },
    strobe: { time: '140 ns' },
    ...raw,
  });
const march = MAT_PROGRAMMES.find(({ name }) => name === 'march')!;

describe('programmes over a mat', () => {
  it('visit every address once a pass, in rising or in falling order', () => {
    const { mat } = small();
    for (const programme of MAT_PROGRAMMES)
      for (let pass = 0; pass < programme.passes.length; pass++) {
        const steps = Array.from({ length: 16 }, (_, i) => matStep(programme, mat, pass * 16 + i));
        const at = steps.map(({ cycle }) => cycle.row * 4 + cycle.column);
        const rising = [...at].sort((a, b) => a - b);
        expect(rising).toEqual(Array.from({ length: 16 }, (_, i) => i));
        expect(at).toEqual(programme.passes[pass].order === 'up' ? rising : rising.toReversed());
      }
  });

  it('expect of every read what the programme itself wrote there before', () => {
    const { mat } = small();
    for (const programme of MAT_PROGRAMMES) {
      const held = new Map<number, 0 | 1>();
      for (let n = 0; n < stepsOf(programme, mat); n++) {
        const { cycle, expects } = matStep(programme, mat, n);
        const at = cycle.row * 4 + cycle.column;
        if (expects !== undefined) expect(held.get(at)).toBe(expects);
        held.set(at, cycle.write === 'one' ? 1 : 0);
      }
    }
  });
});

describe('states from cycle to cycle without the network', () => {
  it.each([
    ['one shared wire', {}],
    ['two halves', { winding: { kind: 'shared-two-halves' } }],
    ['a separate sense wire', { winding: { kind: 'separate-diagonal' } }],
    ['exponential edges', lines({ edge: { kind: 'exponential' } })],
    ['overshoot', lines({ overshoot: { fraction: 0.05, frequency: '20 MHz' } })],
    ['a post-write disturb pulse', { cycle: { postWriteDisturb: true } }],
    ['a weak core', { exceptions: [{ row: 1, column: 1, thresholdFactor: 0.8, fluxFactor: 0.7 }] }],
  ])('agree with the coupled run at the selected core: %s', (_, raw) => {
    const base = small(raw);
    const bits = storedBits(base);
    const length = 24;
    for (const address of [
      { row: 1, column: 2 },
      { row: 1, column: 1 },
    ]) {
      const history = makeMatHistory(base, { bits });
      const cycles = Array.from({ length }, (__, n) => matStep(march, base.mat, 20 + n).cycle);
      for (const cycle of cycles) history.apply(cycle);
      const observed = { ...address, lines: 'both', read: true, write: 'restore' } as const;
      const run = simulate(
        { ...base, selected: { ...address, bit: 1 }, programme: [...cycles, observed] },
        { bits, contributions: false, estimateError: false },
      );
      const index = address.row * 4 + address.column;
      const flux = base.core.parameters.remanentFlux;
      expect(Math.abs(history.flux.phi[index] - run.selected.state[0]) / flux).toBeLessThan(1e-3);
      // A test that could not fail: the core has moved from where a fresh one rests.
      expect(Math.abs(Math.abs(run.selected.state[0]) - flux) / flux).toBeGreaterThan(1e-4);
    }
  });

  it('agree under voltage-driven lines, whose current comes from full runs', () => {
    const source = { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' };
    const base = small({ drive: { x: { source }, y: { source } } });
    const bits = storedBits(base);
    const currents = (bit: 0 | 1) =>
      simulate({ ...base, selected: { ...base.selected, bit } }, { estimateError: false });
    const history = makeMatHistory(base, { bits, currents });
    const cycles = Array.from({ length: 20 }, (_, n) => matStep(march, base.mat, 20 + n).cycle);
    for (const cycle of cycles) history.apply(cycle);
    const { row, column } = base.selected;
    const observed = { row, column, lines: 'both', read: true, write: 'restore' } as const;
    const run = simulate({ ...base, programme: [...cycles, observed] }, { bits, estimateError: false });
    const flux = base.core.parameters.remanentFlux;
    expect(Math.abs(history.flux.phi[6] - run.selected.state[0]) / flux).toBeLessThan(5e-3);
    expect(() => makeMatHistory(base, { bits }).apply(cycles[0])).toThrow(/full runs/u);
  });
});

describe('a march over the whole mat', () => {
  it('reads what the coupled run of the whole programme reads, cycle for cycle', () => {
    const quiet = { hysteresis: '0 mV', uncertainty: '0 mV', threshold: '18 mV' };
    const strobe = { time: '140 ns', aperture: '0 ns' };
    const sound = testMat(small({ detector: quiet, strobe }), march, { simulate });
    // A threshold just above the least ONE, so that some reads fail and others do not.
    const threshold = `${sound.leastOne!.value * 1e3 + 0.03} mV`;
    const design = small({ detector: { ...quiet, threshold }, strobe });
    const found = testMat(design, march, { simulate, samples: 1000, runs: 1000 });
    expect(found.outcome).toBe('done');
    expect(found.reads).toBe(80);
    const wrong = new Set(found.wrong.map(({ step }) => step));
    expect(wrong.has(sound.leastOne!.step)).toBe(true);
    const bits = storedBits(design);
    let compared = 0;
    for (const n of [17, 25, 32, 40, 47, 55, 63, 70, sound.leastOne!.step]) {
      const steps = Array.from({ length: n + 1 }, (_, i) => matStep(march, design.mat, i));
      const { cycle, expects } = steps[n];
      const programme = steps.map((step) => step.cycle);
      const selected = { row: cycle.row, column: cycle.column, bit: design.selected.bit };
      const run = simulate(
        { ...design, selected, programme },
        { bits, contributions: false, estimateError: false },
      );
      if (Math.abs(run.strobe.value - design.detector.threshold) < 0.01e-3) continue;
      compared++;
      expect(run.strobe.bit !== expects, `cycle ${n}`).toBe(wrong.has(n));
    }
    expect(compared).toBeGreaterThan(6);
  });

  it('names the address of a weak core, and that address alone', () => {
    const design = small({
      mat: { rows: 8, columns: 8 },
      exceptions: [{ row: 5, column: 3, fluxFactor: 0.3 }],
    });
    const { wrong } = testMat(design, march, { simulate });
    expect(new Set(wrong.map(({ row, column }) => `${row} ${column}`))).toEqual(new Set(['5 3']));
    // The march reads a ONE of every address twice.
    expect(wrong.map(({ expects }) => expects)).toEqual([1, 1]);
    expect(wrong.every(({ by }) => by === 'run')).toBe(true);
    expect(testMat(small({ mat: { rows: 8, columns: 8 } }), march, { simulate }).wrong).toEqual([]);
  });

  it('tells how far it is, never going back, and stops when told to', () => {
    const shares: number[] = [];
    testMat(small(), march, { simulate, progress: (done) => shares.push(done) });
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    let polls = 0;
    const stopped = testMat(small(), march, { simulate, cancelled: () => ++polls > 30 });
    expect(stopped.outcome).toBe('cancelled');
    expect(stopped.reads).toBeLessThan(80);
  });

  it('runs the same again to the last bit', () => {
    expect(testMat(small(), march, { simulate })).toEqual(testMat(small(), march, { simulate }));
  });

  it('gives no wrong reads of a checkerboard that a march does not find either, on a sound mat', () => {
    for (const programme of MAT_PROGRAMMES as readonly MatProgramme[])
      expect(testMat(small(), programme, { simulate }).wrong, programme.name).toEqual([]);
  });
});

describe('the pattern study', () => {
  it('runs whole-mat programmes when asked, counted in its price and told in its findings', () => {
    const design = {
      mat: { rows: 4, columns: 4 },
      winding: { kind: 'shared-one-run' },
      strobe: { time: '140 ns' },
    };
    const request = {
      kind: 'pattern',
      design,
      options: { random: 0, marches: false, wholeMat: true },
    } as const;
    const plain = planStudy({ ...request, options: { ...request.options, wholeMat: false } });
    const plan = planStudy(request);
    expect(plan.points.length).toBe(plain.points.length + 3);
    expect(plan.runs).toBeGreaterThan(plain.runs);
    const points = plan.points.flatMap(({ name }, i) => (name.startsWith('whole mat') ? [i] : []));
    const study = summarise(
      plan,
      points.map((i) => evaluatePoint(plan, i)),
    );
    const march = study.results.find(({ name }) => name === 'whole mat, march')!;
    expect(march.failed).toBeUndefined();
    expect(march.values).toMatchObject({ reads: 80, wrong: 0 });
    expect(
      study.findings.some((text) => text.includes('march: of 80 reads in 96 cycles none would be wrong')),
    ).toBe(true);

    // How far a programme is comes out while it runs and changes nothing; a cancel ends it within the point.
    const shares: number[] = [];
    const told = evaluatePoint(plan, march.index, {
      ...STUDY_TOOLS,
      progress: (share) => shares.push(share),
    });
    expect(told).toEqual(march);
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.some((share) => share > 0 && share < 1)).toBe(true);
    expect(shares.at(-1)).toBe(1);
    const stopped = evaluatePoint(plan, march.index, { ...STUDY_TOOLS, cancelled: () => true });
    expect(stopped.failed).toContain('cancelled');
  });
});

function lines(drive: object): object {
  return { drive: { x: drive, y: drive } };
}
