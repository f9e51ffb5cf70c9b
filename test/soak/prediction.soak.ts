/**
 * Predictions beside builds that the product does not know: cores whose bell leans by up to 30 %, other knees, spread from core to
 * core, wires and edges off their defaults, all run by the integrator of test/independent. A design is fitted to captures
 * of the 8 × 8 at one drive, or at two, and asked for another current and for 16 × 16.
 */
import { expect, it } from 'vitest';
import { predict } from '../../engine/predict/predict.ts';
import type { Held } from '../../engine/predict/prediction.ts';
import { bellWithin, topOfBell } from '../../engine/predict/top-of-bell.ts';
import type { Patch } from '../../engine/base/json-patch.ts';
import { BOARD } from '../independent/builds.ts';
import { tell } from './figures.ts';
import {
  atDrive,
  capturesOf,
  chanceOfMissing,
  learnt,
  ofBit,
  plantBuild,
  really,
} from './predicted-truths.ts';

/** Builds; SOAK_PREDICTION=15 gives 30 predictions. */
const BUILDS = Number(process.env.SOAK_PREDICTION ?? 2);

const LARGER: readonly Patch[] = [
  { path: '/mat', value: { rows: 16, columns: 16 } },
  { path: '/selected', value: { row: 9, column: 4, bit: 1 } },
];
const ASKED: readonly { readonly name: string; readonly changes: readonly Patch[] }[] = [
  { name: 'another current', changes: atDrive(0.4) },
  { name: '16 × 16', changes: LARGER },
];

it('predicts builds of other kinds within its intervals', () => {
  const held = new Map<string, [number, number]>();
  const widths = new Map<string, number[]>();
  const without = new Map(
    ASKED.map(({ name, changes }) => [name, halfOver(predict({ known: { design: BOARD }, changes }).peak)]),
  );
  const count = (what: string, good: boolean): void => {
    const [n, of] = held.get(what) ?? [0, 0];
    held.set(what, [n + (good ? 1 : 0), of + 1]);
  };
  const holds = ({ low, high }: Held, value: number): boolean => low <= value && value <= high;
  for (let k = 0; k < BUILDS; k++) {
    const build = plantBuild(k);
    const drives =
      k % 2 === 0 ? [[ofBit(1)], [ofBit(0)]] : [[ofBit(1)], [ofBit(0)], [ofBit(1), ...atDrive(0.34)]];
    const known = learnt(capturesOf(build, drives));
    for (const { name, changes } of ASKED) {
      const told = predict({ known, changes });
      const until = told.time[told.time.length - 1]!;
      for (const [bit, trace] of [
        [1, told.traces[0]!],
        [0, told.traces[1]!],
      ] as const) {
        const truth = really(build, [...changes, ofBit(bit)], until);
        const at = Float64Array.from(told.time, (t) => truth.sense[Math.round(t / truth.step)] ?? 0);
        const inside = at.filter((v, i) => trace.low[i]! <= v && v <= trace.high[i]!).length;
        const share = `${name}: samples of a ${bit === 1 ? 'ONE' : 'ZERO'} in their band`;
        const [n, of] = held.get(share) ?? [0, 0];
        held.set(share, [n + inside, of + at.length]);
        if (bit === 0) continue;
        const { peak, peakTime } = topOfBell(told.time, at, bellWithin(told.design));
        count(`${name}: peak of a ONE`, holds(told.peak, peak));
        count(`${name}: its time`, holds(told.peakTime, peakTime));
        const strobe = Math.round(250e-9 / (told.time[1]! - told.time[0]!));
        count(
          `${name}: a ONE 250 ns after the start`,
          trace.low[strobe]! <= at[strobe]! && at[strobe]! <= trace.high[strobe]!,
        );
        const wide = widths.get(name) ?? [];
        wide.push(halfOver(told.peak));
        widths.set(name, wide);
        process.stdout.write(
          `${k} ${name}: peak ${(peak * 1e3).toFixed(1)} in ${[told.peak.low, told.peak.value, told.peak.high].map((v) => (v * 1e3).toFixed(1)).join(' ')}, at ${(peakTime * 1e9).toFixed(0)} in ${[told.peakTime.low, told.peakTime.value, told.peakTime.high].map((v) => (v * 1e9).toFixed(0)).join(' ')}, short ${told.short.share.toFixed(3)}, straight ${told.straight.holds}\n`,
        );
      }
    }
  }
  for (const [what, [good, of]] of held)
    tell(
      'B3',
      `Prediction from a fit, ${what}`,
      `${good} of ${of} (${Math.round((100 * good) / of)} %)`,
      '95 %',
    );
  for (const [name, wide] of widths) {
    const mean = wide.reduce((a, b) => a + b) / wide.length;
    tell(
      'B3',
      `Prediction from a fit, ${name}: half the interval of the peak over it`,
      `${(100 * mean).toFixed(0)} % in the mean`,
      `narrower than without captures, ${(100 * without.get(name)!).toFixed(0)} %`,
    );
    // At the drive of the core's own test its readings tell the peak already, and a fit does not count them: there captures
    // may leave an interval wider than without them, which is told above. Away from that drive they must narrow it.
    if (name === 'another current') expect(mean, name).toBeLessThan(without.get(name)!);
  }
  const figures = [...held].filter(([what]) => !what.includes('samples'));
  const good = figures.reduce((sum, [, [n]]) => sum + n, 0);
  const all = figures.reduce((sum, [, [, of]]) => sum + of, 0);
  // A few figures are no share: it fails where they would miss so often only once in a thousand at a share of LEAST.
  expect(chanceOfMissing(all - good, all, 1 - LEAST)).toBeGreaterThan(0.001);
});

/** Half an interval over its value. */
const halfOver = ({ value, low, high }: Held): number => (high - low) / 2 / value;

/** Share of figures that must be held. */
const LEAST = 0.8;
