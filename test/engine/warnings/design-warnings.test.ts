import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  buildNumbers,
  CAUTIONS,
  checkDesign,
  designJsonSchema,
  designWarnings,
  parseDesignText,
  simulate,
  type DesignWarning,
} from '../../../engine/index.ts';
import { kneeDrive, predictedOne } from '../../../engine/estimates/bell.ts';
import { warmCurrents } from '../../../engine/drive/at-temperature.ts';
import { lineInductance, steepest } from '../../../engine/drive/line-voltage.ts';
import { arrivingShare } from '../../../engine/warnings/sense.ts';
import { staticFlux } from '../../../engine/core/model.ts';
import { stepAnswerAt } from '../../../engine/core/step-answer.ts';

const folder = join(import.meta.dirname, '../../../fixtures/designs');
/** The invented scenario; the bench case beside it is there to show trouble. */
const demos = readdirSync(folder)
  .filter((name) => !name.startsWith('common-practice'))
  .map((name) => [name, parseDesignText(readFileSync(join(folder, name), 'utf8'))] as const);

/** A design with one field changed, and the warning of that code (undefined where there is none). */
const warned = (raw: unknown, code: DesignWarning['code']): DesignWarning | undefined =>
  designWarnings(checkDesign(raw)).find((warning) => warning.code === code);
const lines = (fields: object): object => ({ drive: { x: fields, y: fields } });

describe('demo designs', () => {
  it.each(demos)('%s gives nothing to warn of', (_, design) => {
    expect(designWarnings(design)).toEqual([]);
  });
});

describe('two routes to a ONE', () => {
  it('the closed form and the coupled run agree on its peak within 2 %', () => {
    const design = checkDesign({ selected: { row: 3, column: 5, bit: 1 }, cycle: { period: '3 us' } });
    const { contributions, time } = simulate(design);
    const bell = contributions?.selectedCore.filter((_, i) => time[i] > 60e-9 && time[i] < 500e-9) ?? [];
    const ratio = Math.max(...bell) / (predictedOne(design) * arrivingShare(design));
    expect(ratio).toBeGreaterThan(0.98);
    expect(ratio).toBeLessThan(1.02);
  });
});

describe('what the cores see', () => {
  // Check I1. Currents: PDP-8/E maintenance manual vol. 1, DEC-8E-HMM1A-D-D, 1973, 3.22-3.27, in a digest; sums derived.
  const { x, y, inhibit } = checkDesign({}).drive;

  it('leaves 400 mA, 1.081 times half-select, in the selected core of an inhibited write at 370 + 370 - 340 mA', () => {
    const now = warmCurrents(checkDesign({}));
    expect(now.inhibited).toBeCloseTo(0.4, 12);
    expect(now.inhibited / now.half).toBeCloseTo(1.081, 3);
  });

  it('leaves 30 mA in the others on the lines, and -340 mA in the rest of the mat', () => {
    expect(x.writeAmplitude - inhibit.amplitude).toBeCloseTo(0.03, 12);
    expect(y.writeAmplitude - inhibit.amplitude).toBeCloseTo(0.03, 12);
    expect(-warmCurrents(checkDesign({})).inhibit).toBe(-0.34);
  });

  it('follows drives that track the temperature', () => {
    const cold = checkDesign({ temperature: '5 degC', ...lines({ temperatureCoefficient: '-0.5 %/K' }) });
    expect(warmCurrents(cold).half).toBeCloseTo(0.37 * 1.1, 12);
    expect(warmCurrents(cold).inhibited).toBeCloseTo(0.74 * 1.1 - 0.34, 12);
  });
});

describe('knee and switching', () => {
  it('puts the knee where a tenth of the swing is lost in the end', () => {
    const p = checkDesign({}).core.parameters;
    const rest = staticFlux(p.remanentFlux, p.coerciveDrive, p.staticKneeWidth, kneeDrive(p));
    expect((rest + p.remanentFlux) / (2 * p.remanentFlux)).toBeCloseTo(0.1, 12);
  });

  it('warns when inhibit leaves the selected core over the knee, and gives number and ratio', () => {
    const warning = warned({ drive: { inhibit: { amplitude: '280 mA' } } }, 'inhibited-core-over-knee');
    expect(warning).toMatchObject({ field: '/drive/inhibit/amplitude', unit: 'A' });
    expect(warning?.value).toBeCloseTo(0.46, 12);
    expect(warning?.message).toBe(
      'The selected core of an inhibited write sees 1.24 times half-select, 460 mA, over the knee of the core at 434 mA (a tenth of its flux lost by long half-selecting).',
    );
  });

  it('warns when half-select or inhibit alone is over the knee', () => {
    expect(warned(lines({ readAmplitude: '450 mA' }), 'half-select-over-knee')?.value).toBe(0.45);
    expect(warned(lines({ readAmplitude: '430 mA' }), 'half-select-over-knee')).toBeUndefined();
    expect(warned({ drive: { inhibit: { amplitude: '450 mA' } } }, 'inhibit-over-knee')?.value).toBe(0.45);
  });

  it('warns of a half-select over the knee when the same core is warm', () => {
    expect(warned({ temperature: '70 degC' }, 'half-select-over-knee')).toBeDefined();
    expect(
      warned({ temperature: '70 degC', core: { preset: 'lithium-20-mil' } }, 'half-select-over-knee'),
    ).toBeUndefined();
  });

  it('warns of a pulse that ends before the core has switched, and of nothing at 1 us', () => {
    const short = { cycle: { readWidth: '150 ns', writeWidth: '180 ns' } };
    const read = warned(short, 'read-incomplete');
    expect(read?.limit).toBeGreaterThan(read?.value ?? Infinity);
    expect(warned(short, 'write-incomplete')?.field).toBe('/cycle/writeWidth');
    expect(warned({ cycle: { readWidth: '1 us' } }, 'read-incomplete')).toBeUndefined();
  });

  it('counts the stagger as time that full drive lacks', () => {
    const cycle = { readWidth: '280 ns' };
    expect(warned({ cycle }, 'read-incomplete')).toBeUndefined();
    const late = warned({ cycle: { ...cycle, stagger: '100 ns' } }, 'read-incomplete');
    const early = warned({ cycle: { ...cycle, stagger: '-100 ns' } }, 'read-incomplete');
    expect(late?.value).toBeCloseTo(early?.value ?? 0, 15);
    expect(late?.value).toBeLessThan(late?.limit ?? 0);
  });

  it('warns when full drive does not reach the threshold, and predicts no ONE then', () => {
    const weak = lines({ readAmplitude: '200 mA' });
    expect(warned(weak, 'no-switching')).toMatchObject({ limit: 0.45 });
    expect(predictedOne(checkDesign(weak))).toBe(0);
    expect(stepAnswerAt(checkDesign({}).core.parameters, 0.4)).toBeUndefined();
  });
});

describe('pulses, drivers and supply', () => {
  it('warns when the inhibit does not cover the write pulse, by how much', () => {
    // Linear edges of 40 ns: full 20 ns after its half-amplitude point, and the write starts 20 ns before its own.
    expect(warned({ drive: { inhibit: { lead: '30 ns' } } }, 'inhibit-late')?.value).toBeCloseTo(10e-9, 15);
    expect(warned({ drive: { inhibit: { lag: '15 ns' } } }, 'inhibit-short')?.value).toBeCloseTo(25e-9, 15);
    expect(warned({ drive: { inhibit: { lead: '40 ns', lag: '40 ns' } } }, 'inhibit-late')).toBeUndefined();
    expect(warned({ drive: { inhibit: { lead: '40 ns', lag: '40 ns' } } }, 'inhibit-short')).toBeUndefined();
  });

  it('warns of a post-write disturb that starts before the inhibit is over', () => {
    const cycle = { postWriteDisturb: true, postWriteGap: '80 ns' };
    const warning = warned({ cycle }, 'disturb-meets-inhibit');
    expect(warning?.value).toBeCloseTo(20e-9, 15);
    expect(warning?.message).toContain('710 mA');
    expect(warned({ cycle: { ...cycle, postWriteGap: '200 ns' } }, 'disturb-meets-inhibit')).toBeUndefined();
  });

  it('adds the inductance of all mats in series, and warns past the compliance', () => {
    const raw = { mat: { rows: 64, columns: 64, mats: 16 }, wire: { diameter: '0.05 mm' } };
    const design = checkDesign(raw);
    expect(lineInductance(design, 'x')).toBeCloseTo(200e-9 + 64 * 16 * 1e-9, 15);
    const { x } = design.drive;
    const needed = (lineInductance(design, 'x') * x.readAmplitude) / x.rise + x.readAmplitude * x.resistance;
    const back = x.readAmplitude * x.resistance + 16 * predictedOne(design);
    expect(warned({ ...raw, ...lines({ compliance: '5 V' }) }, 'compliance')?.value).toBeCloseTo(
      Math.max(needed, back),
      9,
    );
    expect(warned({ ...raw, ...lines({ compliance: '15 V' }) }, 'compliance')).toBeUndefined();
  });

  it('knows the steepest slope of each edge shape', () => {
    expect(steepest({ kind: 'linear' })).toBe(1);
    expect(steepest({ kind: 'raised-cosine' })).toBe(Math.PI / 2);
    expect(steepest({ kind: 'exponential' })).toBeCloseTo(2.1972, 4);
    expect(
      steepest({
        kind: 'table',
        points: [
          [0, 0],
          [0.5, 0.2],
          [1, 1],
        ],
      }),
    ).toBeCloseTo(1.6, 12);
  });

  it('warns when turning off kicks past the clamp, and when the supply is under what drivers count on', () => {
    expect(warned(lines({ fall: '2 ns', clamp: '20 V' }), 'turn-off-kick')?.limit).toBe(20);
    expect(warned({ supply: { voltage: '10 V' } }, 'supply-voltage')).toMatchObject({ value: 15, limit: 10 });
  });

  it('warns of a supply over its budget with all bits ZERO', () => {
    const warning = warned({ mat: { mats: 16 }, supply: { budget: '1 A' } }, 'supply-current');
    expect(warning?.value).toBeCloseTo(
      buildNumbers(checkDesign({ mat: { mats: 16 } })).supplyCurrent.atRate,
      12,
    );
  });

  it('warns of a wire that the inhibit makes hot', () => {
    expect(warned({ wire: { resistancePerCore: '80 mohm' } }, 'wire-heat')?.unit).toBe('K');
    expect(
      warned({ wire: { resistancePerCore: '80 mohm' }, cycle: { period: '30 us' } }, 'wire-heat'),
    ).toBeUndefined();
  });
});

describe('sense wire, amplifier and strobe', () => {
  it('warns of a cycle that ends before the tail of the inhibit', () => {
    const raw = { mat: { rows: 64, columns: 64 }, cycle: { period: '1.7 us' } };
    const warning = warned(raw, 'recovery');
    expect(warning?.value).toBeGreaterThan(1.7e-6);
    expect(warned({ ...raw, cycle: { period: '3 us' } }, 'recovery')).toBeUndefined();
  });

  it('warns of a strobe outside the read', () => {
    expect(warned({ strobe: { time: '600 ns' } }, 'strobe-outside-read')?.limit).toBeCloseTo(520e-9, 15);
    expect(warned({ strobe: { time: '5 ns' } }, 'strobe-outside-read')?.limit).toBeCloseTo(20e-9, 15);
    expect(warned({ strobe: { time: '130 ns' } }, 'strobe-outside-read')).toBeUndefined();
  });

  it('warns of a threshold that no ONE reaches', () => {
    const warning = warned({ detector: { threshold: '60 mV' } }, 'threshold-above-one');
    expect(warning?.value).toBe(0.06);
    expect(warning?.limit).toBeLessThan(0.05);
  });

  it('warns of an amplifier that limits before the signal', () => {
    expect(warned({ amplifier: { gain: 500 } }, 'amplifier-saturates')?.limit).toBeCloseTo(0.01, 12);
  });

  it('warns of an end that reflects where the line is long, and of none on a short line', () => {
    const long = { mat: { rows: 64, columns: 64 }, terminations: { b: '1 kohm' } };
    expect(warned(long, 'mismatch')?.field).toBe('/terminations/b');
    expect(warned({ ...long, mat: { rows: 8, columns: 8 } }, 'mismatch')).toBeUndefined();
  });

  it('warns of AC coupling that lets a ONE sag', () => {
    expect(warned({ amplifier: { highPass: '500 kHz' } }, 'sag')?.value).toBeGreaterThan(0.05);
    expect(warned({ amplifier: { highPass: '10 kHz' } }, 'sag')).toBeUndefined();
  });
});

describe('every warning', () => {
  const all = designWarnings(
    checkDesign({
      temperature: '80 degC',
      mat: { rows: 64, columns: 64, mats: 16 },
      cycle: {
        period: '1.8 us',
        readWidth: '90 ns',
        writeWidth: '90 ns',
        postWriteDisturb: true,
        postWriteGap: '30 ns',
      },
      drive: {
        inhibit: { lead: '10 ns', lag: '10 ns' },
        x: { compliance: '3 V', fall: '5 ns', clamp: '5 V' },
      },
      terminations: { a: 'open' },
      strobe: { time: '1 us' },
      detector: { threshold: '500 mV' },
      supply: { voltage: '5 V', budget: '0.1 A' },
      amplifier: { highPass: '1 MHz', gain: 1000 },
    }),
  );

  it('names a field that a design has, a number, a limit and a remedy, in whole sentences', () => {
    expect(all.length).toBeGreaterThan(10);
    for (const warning of all) {
      let node: unknown = designJsonSchema();
      for (const part of warning.field.split('/').slice(1))
        node = (node as { properties: Record<string, unknown> }).properties[part];
      expect(node, warning.field).toBeDefined();
      expect(Number.isFinite(warning.value) && Number.isFinite(warning.limit), warning.code).toBe(true);
      expect(warning.value).not.toBe(warning.limit);
      expect(warning.message).toMatch(/^[A-Z].*\d.*\.$/u);
      expect(warning.remedy).toMatch(/^[A-Z].*\.$/u);
    }
  });
});

describe('cautions', () => {
  it('cover what a builder can be hurt by, and mention the electrical code', () => {
    const text = CAUTIONS.map((caution) => `${caution.title} ${caution.text}`).join(' ');
    for (const word of [
      'kick',
      'hot',
      'short',
      'magnet',
      'wire',
      'older',
      'mains',
      'local electrical code',
      'qualified person',
      'Measure',
    ])
      expect(text).toContain(word);
  });
});
