import { describe, expect, it } from 'vitest';
import type { Design } from '../../../engine/design/design.ts';
import { decide, judge, judgeParts } from '../../../engine/strobe/verdict.ts';
import type { SetVerdicts } from '../../../engine/strobe/verdict-of-sets.ts';
import type { MarginVerdict } from '../../../engine/strobe/verdict-of-sets.ts';
import type { SoftestCore } from '../../../engine/estimates/softest-core.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { setRows, verdictSentence } from '../../../engine/strobe/verdict-words.ts';
import { windowJson } from '../../../engine/export/serialise.ts';
import { headline } from '../../../engine/report/tables.ts';
import { windowText } from '../../../server/print/window-text.ts';
import { designWarnings } from '../../../engine/warnings/design-warnings.ts';
import { assumptions } from '../../../engine/strobe/ledger.ts';
import { strobeSearch, strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { windowRows } from '../../../engine/strobe/window-words.ts';
import { randomDesign } from '../../random-design.ts';
import { demo } from '../../demo-design.ts';

const mV = 1e-3;
const ns = 1e-9;

const set = (margin: number, wanted = 5 * mV): MarginVerdict => ({
  verdict: judge({ margin, width: 30 * ns }, { margin: wanted, width: 20 * ns }),
  margin,
  width: 30 * ns,
  side: 'one',
  case: 'ONE, some case',
});
const sets = (nominal: number, corners: number | null): SetVerdicts => ({
  nominal: set(nominal),
  corners: corners === null ? null : set(corners),
  parts: null,
  core: null,
  numbers: { verdict: 'reads', error: 1e-6 },
});

describe('a judgement', () => {
  it('reads with all that is asked for, is short with less, and fails under nothing or without a window', () => {
    const wanted = { margin: 5 * mV, width: 20 * ns };
    expect(judge({ margin: 5 * mV, width: 20 * ns }, wanted)).toBe('reads');
    expect(judge({ margin: 4.9 * mV, width: 20 * ns }, wanted)).toBe('short');
    expect(judge({ margin: 9 * mV, width: 19 * ns }, wanted)).toBe('short');
    expect(judge({ margin: -1e-9, width: 50 * ns }, wanted)).toBe('fails');
    expect(judge({ margin: 9 * mV, width: 0 }, wanted)).toBe('fails');
    expect(judge({ margin: NaN, width: 0 }, wanted)).toBe('fails');
  });
});

describe('the verdict of a design', () => {
  it('is the worst of the sets that it asks for, and names the one that decides', () => {
    expect(decide(sets(9 * mV, -1 * mV), ['nominal', 'corners'], [])).toMatchObject({
      design: 'fails',
      decides: 'corners',
    });
    expect(decide(sets(9 * mV, -1 * mV), ['nominal'], [])).toMatchObject({
      design: 'reads',
      decides: 'nominal',
    });
    expect(decide(sets(9 * mV, 6 * mV), ['nominal', 'corners'], [])).toMatchObject({
      design: 'reads',
      decides: 'corners',
    });
    expect(decide(sets(9 * mV, null), ['nominal', 'corners'], [])).toMatchObject({
      design: 'reads',
      missing: ['corners'],
    });
  });

  it('does not count parts of which none were drawn as reading, but a softest core that fails decides', () => {
    const softest = (holds: boolean) => judgeParts({ holds } as SoftestCore, undefined, 0.95);
    const asked = ['nominal', 'parts'] as const;
    expect(decide({ ...sets(9 * mV, null), parts: softest(true) }, asked, [])).toMatchObject({
      design: 'reads',
      decides: 'nominal',
      missing: ['parts'],
    });
    expect(decide({ ...sets(9 * mV, null), parts: softest(false) }, asked, [])).toMatchObject({
      design: 'fails',
      decides: 'parts',
      missing: [],
    });
  });

  it('of the first try of the tide recorder is not that it reads: its corners fail, and the first line says so', () => {
    const design = demo('tide-recorder-first-try-16x16');
    const window = strobeWindow(design, { cases: 'corners' });
    expect(window.verdict).toMatchObject({ design: 'fails', decides: 'corners' });
    expect(window.verdict.sets.nominal.verdict).toBe('reads');
    expect(verdictSentence(design, window)).toMatch(
      /^Does not read\. At the corners, which decides: the .+ mV/,
    );
    expect(setRows(design, window).map(([name]) => name)).toEqual([
      'As designed',
      'At the corners',
      'Yield of parts',
      'Error of the run',
    ]);
  });

  it('counts only what is asked for where a design asks for less', () => {
    const design = demo('minimal', { requirement: { sets: ['nominal'] } });
    const window = strobeWindow(design, { cases: 'corners' });
    expect(window.verdict).toMatchObject({ design: 'reads', decides: 'nominal' });
    expect(window.verdict.sets.corners!.verdict).toBe('fails');
    expect(verdictSentence(design, window)).toMatch(
      /^Reads\. As designed, which decides: .+ Not asked for, and there it does not read: at the corners, yield of parts\b/,
    );
  });
});

describe('what a verdict takes for granted', () => {
  // 12 drives of X, Y and inhibit on a supply that may give a tenth of an ampere, and on one that ends under the line's own drop.
  const supply = { voltage: '3 V', budget: '0.1 A' };

  it('decides where all that is asked for reads, and is no excuse where it does not', () => {
    const limit = { field: '/supply/budget', used: 1.8, limit: 1.5, unit: 'A', excess: 0.2 } as const;
    const limits = [{ code: 'supply-current', ...limit }] as const;
    const asked = ['nominal', 'corners'] as const;
    const told = (corners: number) => decide(sets(9 * mV, corners), asked, limits);
    expect(told(6 * mV)).toMatchObject({ design: 'short', decides: 'limits', limits });
    expect(told(3 * mV)).toMatchObject({ design: 'short', decides: 'corners', limits });
    expect(told(-1 * mV)).toMatchObject({ design: 'fails', decides: 'corners', limits });
  });

  it('is told first at every door, and never in green', () => {
    const design = demo('minimal', { supply, requirement: { sets: ['nominal'] } });
    const window = strobeWindow(design, { cases: 'quick' });
    expect(window.verdict.sets.nominal.verdict).toBe('reads');
    const first =
      /^Reads, but beyond its limits\. What its runs take for granted decides: .*average current of the supply: .+ of 100 mA.*\. Were that given, as designed: the margin is .+ mV/u;
    expect(verdictSentence(design, window)).toMatch(first);
    expect(windowText(design, window)).toMatch(first);
    expect(JSON.parse(windowJson(design, window)).verdict).toMatchObject({
      design: 'short',
      decides: 'limits',
      limits: expect.arrayContaining([expect.objectContaining({ code: 'supply-current' })]),
    });
    expect(headline(design, window)).toMatch(/<span class="status warn">▲ Reads, but beyond its limits/u);
    expect(setRows(design, window).at(-1)).toEqual([
      'Limits',
      'Beyond them',
      expect.stringContaining('100 mA'),
    ]);
  });

  it('is told in its first line and beside its sets where the design does not keep to it', () => {
    const starved = demo('minimal', { supply, requirement: { margin: '1 V' } });
    const window = strobeWindow(starved, { cases: 'quick' });
    const codes = window.verdict.limits.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(['supply-voltage', 'supply-current', 'supply-peak']));
    expect(new Set(codes).size).toBe(codes.length);
    // The same figures as `check` prints.
    for (const { code, field, used, limit } of window.verdict.limits) {
      const warned = designWarnings(starved).filter((warning) => warning.code === code);
      expect(warned).toContainEqual(expect.objectContaining({ field, value: used, limit }));
    }
    expect(verdictSentence(starved, window)).toMatch(
      / Taken for granted in this, but beyond their limits: .*average current of the supply: .+ of 100 mA/u,
    );
  });

  it('is not told of a design that keeps to all of it', () => {
    const design = demo('minimal');
    const window = strobeWindow(design, { cases: 'quick' });
    expect(window.verdict.limits).toEqual([]);
    expect(verdictSentence(design, window)).not.toContain('Taken for granted');
  });
});

describe('the chain of the margin', () => {
  const designs = [demo('minimal'), ...[4, 10].map((seed) => randomDesign(seed, { largest: 2 }))];

  it.each(designs.map((design, i) => [i, design] as const))(
    'sums up to the margins of its sets, each in its place, in design %i',
    (_, design) => {
      const {
        chain,
        chainSide: side,
        verdict,
        margin,
        corners,
        inForce,
      } = strobeWindow(design, { cases: 'corners' });
      const { threshold: unsure } = strobeUncertainties(design);
      let sum = 0;
      const reached: Record<string, number> = {};
      for (const { step, volts, set: name } of chain) {
        if (step === 'left') expect(volts).toBe(sum);
        else sum += volts;
        if (name) reached[name] = sum;
      }
      // Derived: what either window tells of this side, its uncertainty taken off.
      const wide = unsure + 2 * design.tolerances.threshold * design.detector.threshold;
      expect(Math.abs(reached['nominal']! - (margin[side] - unsure))).toBeLessThan(1e-9);
      expect(Math.abs(reached['corners']! - (corners!.margin[side] - wide))).toBeLessThan(1e-9);
      const decisive = verdict.sets[verdict.decides === 'nominal' ? 'nominal' : 'corners']!;
      expect(side).toBe(decisive.side);
      expect(Number.isFinite(inForce.time)).toBe(true);
    },
  );
});

describe('what is not known', () => {
  const design = demo('classroom-board-first-try-4x4');
  const window = strobeWindow(design);

  it('of the core is a set of its own: an interval that holds the corner margin, its worst end, what to measure next', () => {
    const { core, corners } = window.verdict.sets;
    expect(core!.low).toBeLessThanOrEqual(corners!.margin);
    expect(core!.high).toBeGreaterThanOrEqual(corners!.margin);
    expect(core!.worst!.parameter).not.toBe('');
    const { what, narrowsTo } = core!.measureNext!;
    expect(what).not.toBe('');
    expect(narrowsTo[0]).toBeGreaterThanOrEqual(core!.low);
    expect(narrowsTo[1]).toBeLessThanOrEqual(core!.high);
    const last = window.chain.filter((step) => step.set === 'core');
    expect(last).toHaveLength(1);
  });

  it('and was not given stands in a ledger with its range, what moves the margin most first', () => {
    const { ledger } = window;
    const moved = ledger.map(({ marginLow, marginHigh }) => Math.abs(marginHigh - marginLow));
    expect(moved).toEqual([...moved].sort((a, b) => b - a));
    expect(ledger.some(({ field }) => field.startsWith('/core/parameters/'))).toBe(true);
    const drive = ledger.find(({ field }) => field === '/tolerances/drive')!;
    expect([drive.from, drive.low, drive.high]).toEqual(['default', 0.01, 0.04]);
    // More spread never leaves more.
    expect(drive.marginHigh).toBeLessThan(drive.marginLow);
    for (const { low, value, high } of ledger) {
      expect(low).toBeLessThanOrEqual(value);
      expect(high).toBeGreaterThanOrEqual(value);
    }
    // What is told before anything is run is the same list.
    const before = assumptions(design).map(({ field, of }) => `${field} ${of}`);
    expect(ledger.map(({ field, of }) => `${field} ${of}`).sort()).toEqual(before.sort());
  });

  it('but given is in no ledger', () => {
    const given = demo('classroom-board-first-try-4x4', { tolerances: { drive: 0.015 } });
    const fields = (design: Design) => assumptions(design).map(({ field }) => field);
    expect(fields(given)).not.toContain('/tolerances/drive');
    expect(fields(demo('classroom-board-first-try-4x4'))).toContain('/tolerances/drive');
  });
});

describe('a strobe that is found', () => {
  const kept = [1, 2, 3, 5].map((seed) => {
    const design = randomDesign(seed, { largest: 4 });
    return { ...design, strobe: { ...design.strobe, time: undefined } };
  });

  it.each(kept.map((design) => [design.name, design] as const))(
    'lies within the read pulse, alone or with its threshold: %s',
    (_, design) => {
      const { inForce, bestPair } = strobeWindow(design, { cases: 'quick' });
      for (const time of [inForce.time, ...(bestPair ? [bestPair.time] : [])]) {
        expect(time).toBeGreaterThanOrEqual(0);
        expect(time).toBeLessThanOrEqual(strobeSearch(design).end + design.detector.delay);
      }
    },
  );

  it('is told to be the least bad one there where none passes', () => {
    const deaf = demo('minimal', { mat: { rows: 4, columns: 4 }, selected: { row: 1, column: 2 } });
    const told = (threshold: number): string => {
      const design = { ...deaf, detector: { ...deaf.detector, threshold } };
      return windowRows(design, strobeWindow(design, { cases: 'quick' }))[0]![0];
    };
    expect(told(18 * mV)).toBe('Strobe (best for this threshold)');
    expect(told(200 * mV)).toBe('Strobe (least bad within the read pulse: none passes)');
  });
});
