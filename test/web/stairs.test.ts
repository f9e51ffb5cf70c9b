import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { ChainStep } from '../../engine/strobe/chain-step.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { windowOf, windowWithChains } from '../../engine/strobe/window-of.ts';
import { stairSpan, stairsOf, type Stairs } from '../../web/stage/margin/stairs.ts';
import { endWords, stairsSummary } from '../../web/stage/margin/stairs-words.ts';

const one: readonly ChainStep[] = [
  { step: 'selectedCore', volts: 35.6e-3 },
  { step: 'directCoupling', volts: -1.75e-6 },
  { step: 'inhibit', volts: -0.1e-3 },
  { step: 'halfSelectedIrreversible', volts: -0.41e-3 },
  { step: 'threshold', volts: -14.2e-3 },
  { step: 'uncertainty', volts: -3e-3, set: 'nominal' },
  { step: 'drive', volts: -7.86e-3 },
  { step: 'supply', volts: 0.2e-3 },
  { step: 'thresholdTolerance', volts: -1.4e-3, set: 'corners' },
  { step: 'left', volts: 0 },
];
const zero: readonly ChainStep[] = [
  { step: 'threshold', volts: 14.2e-3 },
  { step: 'selectedCore', volts: 0 },
  { step: 'halfSelectedIrreversible', volts: -0.4e-3 },
  { step: 'uncertainty', volts: -3e-3, set: 'nominal' },
  { step: 'drive', volts: -0.5e-3 },
  { step: 'thresholdTolerance', volts: -1.4e-3, set: 'corners' },
  { step: 'left', volts: 0 },
];

describe('the stairs of the margin', () => {
  /** What a reader measures on the picture: from the end of a stair to the edge of its band. */
  const measured = ({ ends, band, wideBand }: Stairs) =>
    ends.map(({ set, heights }) => {
      const edge = set === 'nominal' ? band : wideBand!;
      return { set, one: heights.one - edge.high, zero: edge.low - heights.zero };
    });

  it('come, summed from the picture, to what the engine says is left, on either side and for every set', () => {
    const design = checkDesign({
      core: { preset: 'ferrite-20-mil' },
      mat: { rows: 4, columns: 4 },
      detector: { threshold: '18 mV' },
    });
    const ensemble = runEnsemble(design, { simulate, cases: 'corners' });
    if (!('envelope' in ensemble)) throw new Error('no ensemble');
    const at = { time: undefined, threshold: 0.018 };
    const { window, chains } = windowWithChains(ensemble, at);
    expect(window).toEqual(windowOf(ensemble, at));
    const stairs = stairsOf(chains);
    expect(stairs.ends.map(({ set }) => set)).toEqual(['nominal', 'corners']);
    for (const seen of measured(stairs)) {
      const { margin } = seen.set === 'nominal' ? window : window.corners!;
      expect(Math.min(seen.one, seen.zero)).toBeCloseTo(margin.left, 12);
      expect(seen.one - seen.zero).toBeCloseTo(margin.one - margin.zero, 12);
    }
  });

  it('start each where the one before it ended, and tell steps under 0.3 mV together', () => {
    const { columns, ends } = stairsOf({ one, zero });
    expect(columns.map(({ key }) => key)).toEqual(['core', 'half', 'rest', 'corners']);
    for (const side of ['one', 'zero'] as const) {
      let height = 0;
      for (const { stairs } of columns) {
        expect(stairs[side].from).toBeCloseTo(height, 15);
        height = stairs[side].to;
      }
      expect(height).toBeCloseTo(ends.at(-1)!.heights[side], 15);
    }
  });

  it('lie with the band and zero in their span, and are told in words with their signs', () => {
    const stairs = stairsOf({ one, zero });
    expect(stairSpan(stairs).low).toBe(0);
    expect(stairSpan(stairs).high).toBeCloseTo(35.6e-3, 9);
    expect(stairsSummary(stairs)).toContain('core 35.6, half-sel. −0.4, rest −0.1, corners −7.7');
    expect(
      endWords({ set: 'corners', heights: { one: 0.02, zero: 0.01 }, left: { one: 0.006, zero: 0.009 } }),
    ).toBe('At the corners: 6 mV clear');
    expect(
      endWords({ set: 'corners', heights: { one: 0.012, zero: 0.03 }, left: { one: -0.016, zero: -0.02 } }),
    ).toBe('At the corners: ONE and ZERO cross');
    expect(
      endWords({ set: 'nominal', heights: { one: 0.02, zero: 0.018 }, left: { one: 0.001, zero: -0.002 } }),
    ).toBe('As designed: ZERO 2 mV too high');
  });
});
