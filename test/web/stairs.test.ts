import { expect, it } from 'vitest';
import type { ChainStep } from '../../engine/strobe/chain.ts';
import { stairSpan, stairsOf } from '../../web/stage/margin/stairs.ts';

const chain: readonly ChainStep[] = [
  { step: 'selectedCore', volts: 35.6e-3 },
  { step: 'directCoupling', volts: -1.75e-6 },
  { step: 'halfSelectedIrreversible', volts: -0.41e-3 },
  { step: 'threshold', volts: -14.2e-3 },
  { step: 'uncertainty', volts: -3e-3, set: 'nominal' },
  { step: 'drive', volts: -7.86e-3 },
  { step: 'supply', volts: 0.2e-3, set: 'corners' },
  { step: 'left', volts: 0 },
];

it('stairs of the margin sum exactly to what each set leaves', () => {
  const stairs = stairsOf(chain);
  let height = 0;
  for (const stair of stairs) {
    if (stair.sum) expect(stair.volts).toBe(height);
    else {
      expect(stair.from).toBe(height);
      height = stair.to;
    }
  }
  expect(stairs.filter(({ sum }) => sum).map(({ label }) => label)).toEqual([
    'As designed, this side',
    'At the corners, this side',
  ]);
  expect(height).toBeCloseTo(
    chain.reduce((sum, { volts }) => sum + volts, 0),
    12,
  );
});

it('steps under 0.3 mV are told together as the rest, and none in femtovolts', () => {
  const labels = stairsOf(chain).map(({ label }) => label);
  expect(labels.filter((label) => label === 'The rest')).toHaveLength(2);
  expect(labels).not.toContain('Direct coupling');
});

it('the axis of the stairs holds all of them and zero', () => {
  const [low, high] = stairSpan(stairsOf(chain));
  expect(low).toBe(0);
  expect(high).toBeCloseTo(35.6e-3, 6);
});
