import { describe, expect, it } from 'vitest';
import { applyPatches, type Json } from '../../../engine/base/json-patch.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { pairInductancePerMetre } from '../../../engine/core/straight-wires.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import type { Design } from '../../../engine/design/design.ts';
import { driveNeeds } from '../../../engine/estimates/drive-needs.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { carriedSentence, carryOver } from '../../../engine/stages/carry.ts';
import { changeBetween } from '../../../engine/stages/change.ts';
import { leadFields, pairMutual } from '../../../engine/stages/leads.ts';
import { changeSentences, coresOf, stageSentence, tellsOf } from '../../../engine/stages/stage-words.ts';
import { stagesOf, type StageName } from '../../../engine/stages/stage.ts';
import { demo } from '../../demo-design.ts';

const changed = (design: Design, path: string, value: Json): Design =>
  checkDesign(applyPatches(designToJson(design) as Json, [{ path, value }]));
const stage = (design: Design, name: StageName): Design =>
  stagesOf(design).find((each) => each.name === name)!.design;

describe('leads beside leads', () => {
  /** Neumann's double integral over four pairs of straight wires, by sums: H. */
  function neumann(length: number, apart: number, between: number): number {
    const n = 800;
    const step = length / n;
    const pair = (distance: number): number => {
      let sum = 0;
      for (let lag = -n + 1; lag < n; lag++) sum += (n - Math.abs(lag)) / Math.hypot(lag * step, distance);
      return 1e-7 * sum * step * step;
    };
    return Math.abs(2 * pair(between) - pair(between + apart) - pair(between - apart));
  }

  it.each([
    [0.5, 10e-3, 30e-3],
    [0.15, 5e-3, 15e-3],
  ])('of %f m couple as Neumann’s integral says', (length, apart, between) => {
    expect(pairMutual(length, apart, between) / neumann(length, apart, between)).toBeCloseTo(1, 2);
  });

  it('have the delay of light in air, but for the field inside the wire', () => {
    const design = checkDesign({ wire: { diameter: '0.12 mm' } });
    const fields = leadFields(design, { run: 0.5, apart: 10e-3, between: 30e-3 });
    const { cable } = checkDesign({ wire: { cable: fields.cable } }).wire;
    const light = 0.5 / 299_792_458;
    expect(cable.delay).toBeGreaterThan(light);
    expect(cable.delay).toBeLessThan(1.04 * light);
  });

  it('induce M dI/dt in a wire that nothing else couples to', () => {
    // 12 nH, 300 mA in 50 ns: 72 mV; two ends of 200 ohm hear all of it.
    const quiet = {
      mat: { rows: 2, columns: 2, populated: { cores: [{ row: 0, column: 0 }] }, leads: { mutual: '12 nH' } },
      wire: {
        mutualX: '0 H',
        mutualY: '0 H',
        couplingCapacitance: '0 F',
        cable: { delay: '0.5 ns', impedance: '100 ohm' },
      },
      terminations: { a: '200 ohm', b: '200 ohm' },
      amplifier: { inputResistance: '10 Mohm' },
      drive: { x: { readAmplitude: '300 mA', rise: '50 ns' } },
      selected: { row: 0, column: 0, bit: 0 },
      programme: [{ row: 0, column: 0, lines: 'x', read: true, write: 'none' }],
    };
    const bare = checkDesign({ ...quiet, mat: { ...quiet.mat, leads: {} } });
    const at = (design: Design): number => {
      const { time, contributions } = simulate(design);
      return contributions!.directCoupling[time.findIndex((t) => t >= 40e-9)]!;
    };
    const loud = checkDesign(quiet);
    expect(at(loud) - at(bare)).toBeCloseTo(72e-3, 4);
  });

  it('are refused in a sentence where the sense wire has none, or where they would couple more than wholly', () => {
    const leads = { leads: { mutual: '12 nH' } };
    expect(() => checkDesign({ mat: leads })).toThrow(
      'mat.leads.mutual must be 0 H where the sense wire has no leads (wire.cable.delay is 0), but is 12 nH; give wire.cable its delay and impedance.',
    );
    const voltage = { source: { kind: 'voltage', voltage: '20 V', resistance: '50 ohm' } };
    expect(() =>
      checkDesign({
        mat: { leads: { mutual: '2 uH' } },
        wire: { cable: { delay: '1 ns', impedance: '100 ohm' } },
        drive: { x: voltage, y: voltage },
      }),
    ).toThrow(/mat\.leads\.mutual must be at most [\d.]+ nH to either side beside 200 nH of sense leads/u);
  });
});

describe('stages of a build', () => {
  const tide = demo('tide-recorder-16x16');

  it('are a rig, a mat, a word and the whole, with the cores that each name says', () => {
    const stages = stagesOf(tide);
    expect(stages.map(({ name }) => name)).toEqual(['rig', 'mat', 'word', 'whole']);
    // A row and a column of 16 meet in one core: 31, in the mat that is read and in one of dummies.
    expect(stages.map(({ design }) => coresOf(design))).toEqual([62, 256, 12, 3072]);
    expect(stages.at(-1)!.design).toBe(tide);
    for (const each of stages) {
      const { tells, not } = tellsOf(each);
      expect(tells.length * not.length * stageSentence(each).length).toBeGreaterThan(0);
    }
  });

  it('tell of the final what they hold of it, and not what they lack: by what moves a trace in the final and not in them', () => {
    const heard = (design: Design, path: string, value: Json): number => {
      const before = simulate(design, { estimateError: false });
      const after = simulate(changed(design, path, value), { estimateError: false });
      return Math.max(...before.senseVoltage.map((v, i) => Math.abs(v - after.senseVoltage[i]!)));
    };
    const inhibited = (design: Design): Design => changed(design, '/selected/bit', 0);
    const [rig, mat, word] = (['rig', 'mat', 'word'] as const).map((name) => stage(tide, name));
    const not = (name: StageName): string =>
      tellsOf(stagesOf(tide).find((each) => each.name === name)!).not.join('; ');
    // A core and its drive show in every stage.
    for (const design of [rig!, mat!, word!])
      expect(heard(design, '/core/parameters/remanentFlux', '2.9 nWb')).toBeGreaterThan(1e-3);
    // A rig has no amplifier, and says so: a slower one changes nothing that it hears.
    expect(not('rig')).toContain('amplifier');
    const slower = (design: Design): number => {
      const run = (of: Design) => simulate(of, { estimateError: false }).amplifierOutput;
      const after = run(changed(design, '/amplifier/bandwidth', '5 MHz'));
      const before = run(design);
      return Math.max(...before.map((v, i) => Math.abs(v - after[i]!)));
    };
    expect(slower(mat!)).toBeGreaterThan(1e-3);
    // A word has no other cores: what is stored in them is not heard, and that is what it says it cannot tell.
    expect(not('word')).toContain('half-select noise');
    expect(heard(word!, '/stored', { kind: 'ones' })).toBeLessThan(1e-6);
    expect(heard(mat!, '/stored', { kind: 'ones' })).toBeGreaterThan(1e-4);
    // Of the inhibit a mat tells everything, a rig nothing.
    expect(not('rig')).toContain('inhibit');
    expect(heard(inhibited(mat!), '/drive/inhibit/amplitude', '100 mA')).toBeGreaterThan(1e-3);
    // What all mats ask of X and Y, one mat cannot tell.
    expect(not('mat')).toContain('volts that X and Y need through all mats');
    const volts = (design: Design): number => driveNeeds(design).find(({ line }) => line === 'x')!.needed;
    expect(volts(mat!)).toBeLessThan(0.75 * volts(tide));
  });

  it.each(['carillon-sequencer-64x64', 'classroom-board-4x4', 'common-practice-8x8', 'tide-recorder-32x32'])(
    'can be derived from %s',
    (name) => {
      const design = demo(name);
      expect(stagesOf(design)).toHaveLength(design.mat.mats > 1 ? 4 : 3);
    },
  );

  it('keep what a design states of its lines, and add what the leads are longer by', () => {
    const stated = changed(tide, '/drive/x/inductance', '500 nH');
    const { inductance } = stage(stated, 'word').drive.x;
    const radius = tide.wire.bareDiameter / 2;
    const longer = 0.3 * pairInductancePerMetre(radius, 5e-3) - 0.1 * pairInductancePerMetre(radius, 2e-3);
    expect(inductance).toBeCloseTo(500e-9 + longer, 12);
  });

  it('change by parts that sum to the whole', () => {
    const [rig, mat] = [stage(tide, 'rig'), stage(tide, 'mat')];
    const strobe = 166e-9;
    const { parts, total } = changeBetween(rig, mat, strobe, simulate);
    const sum = parts.reduce((all, { atStrobe }) => all + atStrobe, 0);
    const heard = (design: Design): number => {
      const { time, senseVoltage } = simulate(changed(design, '/selected/bit', 1));
      const at = time.findLastIndex((t) => t <= strobe - design.detector.delay);
      return Math.abs(senseVoltage[at]!);
    };
    expect(sum).toBeCloseTo(heard(mat) - heard(rig), 9);
    expect(total.after.atStrobe).toBeCloseTo(heard(mat), 9);
  });

  it('lose the coupling of their leads as these get shorter, and say so', () => {
    const change = changeBetween(stage(tide, 'word'), tide, 166e-9, simulate);
    const { readAmplitude, rise } = tide.drive.x;
    const mutual = stage(tide, 'word').mat.leads.mutual;
    const part = change.parts.find(({ group, cause }) => group === 'leads' && cause === 'directCoupling')!;
    // Two lines with M dI/dt each, less what the lines couple inside the mat.
    const induced = (2 * mutual * readAmplitude) / rise;
    expect(part.greatest).toBeLessThan(-0.85 * induced);
    expect(part.greatest).toBeGreaterThan(-1.15 * induced);
    expect(changeSentences(change).join(' ')).toMatch(
      /With shorter leads, 100 mm in place of 300 mm, direct coupling from the drive lines loses \d+ mV at its greatest/u,
    );
  });
});

describe('what captures of a stage have found', () => {
  const tide = demo('tide-recorder-16x16');

  it('goes over to the final design where it is the same there, and stays with its reason where it is not', () => {
    const rig = stage(tide, 'rig');
    const found = changed(
      changed(rig, '/core/parameters/remanentFlux', '2.5 nWb'),
      '/wire/mutualX',
      '0.4 nH',
    );
    const { design, carried } = carryOver(tide, 'rig', found);
    expect(design.core.parameters.remanentFlux).toBe(2.5e-9);
    expect(design.wire).toEqual(tide.wire);
    expect(design.mat).toEqual(tide.mat);
    expect(carried.map(({ unknown, stays }) => [unknown, stays === undefined])).toEqual([
      ['coreFlux', true],
      ['mutualX', false],
    ]);
    expect(carried.map(carriedSentence)).toEqual([
      'remanent flux of a core: 2.7 nWb, found 2.5 nWb; taken over',
      expect.stringContaining('a capture through loose leads cannot tell it from what the leads couple'),
    ]);
  });

  it('of a mat includes the coupling of its own wires', () => {
    const mat = stage(tide, 'mat');
    const mutual = 1.3 * tide.wire.mutualX;
    const found = changed(mat, '/wire/mutualX', `${mutual} H`);
    const { design, carried } = carryOver(tide, 'mat', found);
    expect(design.wire.mutualX).toBeCloseTo(mutual, 20);
    expect(carried).toHaveLength(1);
    expect(carryOver(tide, 'mat', mat).carried).toEqual([]);
  });
});
