import { expect, test } from 'vitest';
import { judgeCaptures, requireUsable } from '../../../engine/fitting/judge/judge-captures.ts';
import { capture, SMALL } from '../../independent/builds.ts';

/** All that the judge finds, and what it does not mistake: judge.long.test.ts. Here how captures come out of it. */
test('a capture is divided by a probe factor that is believed, its gain then open; one that is not usable is refused', () => {
  const trace = capture(SMALL, [], { until: 900e-9, instrument: { probe: 0.1, noise: 0.5e-3 } });
  const { time, value } = trace;
  const logic = { time, value: value.map((v, i) => (v > 0.002 ? 3.3 : 0) + 0.01 * Math.sin(i * 7.3)) };
  const believed = judgeCaptures(SMALL, [{ label: 'one.csv', trace }]);
  const [one] = requireUsable(believed);
  expect(one!.trace.value[300]).toBeCloseTo(10 * value[300]!, 12);
  expect(one!.probeGain).toBe('free');
  expect(believed.judgements[0]!.statement).toMatch(/^Only its shape can be used: it is 10 times too small/u);
  expect(() => requireUsable(judgeCaptures(SMALL, [{ label: 'logic.csv', trace: logic }]))).toThrow(
    'logic.csv: Not usable as it is: it has two levels',
  );
});
