import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Patch } from '../../../engine/base/json-patch.ts';
import { knowledgeOf, type Knowledge } from '../../../engine/predict/knowledge.ts';
import { fitDesign } from '../../../engine/fitting/fit-design.ts';
import { predict } from '../../../engine/predict/predict.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { capture, SMALL } from '../../independent/builds.ts';

const wide = ({ low, high }: { low: number; high: number }): number => high - low;
const at = (ampere: string): Patch[] =>
  (['x', 'y'] as const).map((line) => ({ path: `/drive/${line}/readAmplitude`, value: ampere }));

const alone = predict({ known: { design: SMALL } });
const captures = ([1, 0] as const).map((bit) => {
  const changes: Patch[] = [{ path: '/selected/bit', value: bit }];
  return { label: `a ${bit}`, trace: capture(SMALL, changes, { until: 500e-9 }), changes };
});
const fit = fitDesign({ design: SMALL, captures, unknowns: ['coreFlux', 'coreRate'] });
const known: Knowledge = knowledgeOf(fit, captures);
const fitted = predict({ known });

describe('a prediction', () => {
  it('says of the design itself what its window says', () => {
    const window = strobeWindow(checkDesign(SMALL), { cases: 'corners' });
    expect(alone.margin.value).toBeCloseTo(window.margin.left, 6);
    expect(alone.corners.value).toBeCloseTo(window.verdict.sets.corners!.margin, 6);
  });

  it('holds every value between its ends, and every sample in its band', () => {
    for (const found of [alone, fitted]) {
      for (const name of ['peak', 'peakTime', 'strobe', 'threshold', 'margin', 'corners'] as const) {
        expect(found[name].low, name).toBeLessThanOrEqual(found[name].value);
        expect(found[name].high, name).toBeGreaterThanOrEqual(found[name].value);
      }
      for (const { value, low, high } of found.traces)
        expect(value.every((v, i) => low[i]! <= v && v <= high[i]!)).toBe(true);
    }
  });

  it('is narrower with captures than without', () => {
    expect(wide(fitted.peak)).toBeLessThan(wide(alone.peak));
  });

  it('names what lies outside what was measured, and is wider there', () => {
    const elsewhere = predict({
      known,
      changes: [...at('0.41 A'), { path: '/mat', value: { rows: 8, columns: 8 } }],
    });
    const named = elsewhere.outside.map(({ what }) => what);
    expect(named).toContain('drive');
    expect(named).toContain('half-select');
    expect(named).toContain('size');
    expect(fitted.outside.map(({ what }) => what)).not.toContain('drive');
    expect(wide(elsewhere.peak) / elsewhere.peak.value).toBeGreaterThan(
      wide(fitted.peak) / fitted.peak.value,
    );
    for (const { matters } of elsewhere.outside) expect(matters).toBeGreaterThanOrEqual(0);
  });

  it('is wider where a fit says that it knows its values less well', () => {
    const looser: Knowledge = {
      ...known,
      values: known.values.map((value) => ({ ...value, deviation: 5 * value.deviation })),
    };
    expect(wide(predict({ known: looser }).peak)).toBeGreaterThan(wide(fitted.peak));
  });

  it('refuses another core, of which nothing was measured', () => {
    const changes = [{ path: '/core/preset', value: 'ferrite-30-mil' }];
    expect(() => predict({ known, changes })).toThrow(/must keep the core that was measured/u);
  });

  it('ends when it is cancelled', () => {
    expect(() => predict({ known, cancelled: () => true })).toThrow(/cancelled/u);
  });
});
