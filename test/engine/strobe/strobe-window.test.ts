import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { findBestPair } from '../../../engine/strobe/best-pair.ts';
import { findOpening, passBand, passIntervals } from '../../../engine/strobe/intervals.ts';
import { envelopeOf, strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { chooseTap, ratioInDb, windowAt } from '../../../engine/strobe/window-at.ts';
import { senseChannel } from '../sense-amplifier/sense-channel.ts';
import { bell, envelopeFrom, exact } from './synthetic-strobe.ts';

const ns = 1e-9;
const mV = 1e-3;

/** A ONE of 40 mV at 250 ns after a coupling spike of 200 mV that is over by 150 ns; a ZERO with the spike alone. */
const spike = bell(200 * mV, 60 * ns, 40 * ns);
const one = (t: number): number => spike(t) + bell(40 * mV, 250 * ns, 100 * ns)(t);
const zero = (t: number): number => spike(t) + bell(6 * mV, 200 * ns, 120 * ns)(t);
const plain = envelopeFrom([one], [zero]);

describe('the strobe window at a threshold', () => {
  it('reads a sech^2 ONE of 100 ns half-width at 0.970, 0.885, 0.765 and 0.631 of its peak 10 to 40 ns off it', () => {
    // A1, derived: sech^2(2 x 0.881374 x d/width).
    const envelope = envelopeFrom([bell(1, 250 * ns, 100 * ns)], [() => 0]);
    const expected = [0.97, 0.885, 0.765, 0.631];
    expected.forEach((part, i) => {
      for (const side of [-1, 1]) {
        const time = (250 + side * 10 * (i + 1)) * ns;
        const { margin } = windowAt(envelope, { time, threshold: 0.5 }, exact);
        expect(Math.abs(margin.total / part - 1)).toBeLessThan(2e-3);
      }
    });
  });

  it('finds edges that agree with a hundred times denser search within 0.1 ns', () => {
    const pairs = [15 * mV, 20 * mV, 30 * mV].map((threshold) => {
      const coarse = passIntervals(plain, threshold, exact);
      const dense: { start: number; end: number }[] = [];
      let start: number | undefined;
      for (let k = 0; k <= 60_000; k++) {
        const t = k * 0.01 * ns;
        const pass = one(t) >= threshold && zero(t) <= threshold;
        if (pass && start === undefined) start = t;
        if (!pass && start !== undefined) {
          dense.push({ start, end: t });
          start = undefined;
        }
      }
      return { coarse, dense };
    });
    for (const { coarse, dense } of pairs) {
      expect(coarse).toHaveLength(dense.length);
      expect(coarse.length).toBeGreaterThan(0);
      coarse.forEach((interval, i) => {
        expect(Math.abs(interval.start - dense[i].start)).toBeLessThan(0.1 * ns);
        expect(Math.abs(interval.end - dense[i].end)).toBeLessThan(0.1 * ns);
      });
    }
  });

  it('lists every interval when the ZERO rises through the threshold inside the ONE', () => {
    const bump = (t: number): number => zero(t) + bell(30 * mV, 250 * ns, 10 * ns)(t);
    const envelope = envelopeFrom(
      [one, bump].map((f) => (t: number) => Math.max(f(t), one(t))),
      [bump],
    );
    const found = windowAt(envelope, { time: undefined, threshold: 20 * mV }, exact);
    expect(found.intervals).toHaveLength(2);
    expect(found.strobe).toBeDefined();
    const inside = found.intervals.filter(
      (i) => i.start <= found.inForce.time && found.inForce.time <= i.end,
    );
    expect(inside).toEqual([{ start: found.strobe!.start, end: found.strobe!.end }]);
  });

  it('is later by the detector delay, shorter by aperture and six sigma of jitter, and by the uncertainty', () => {
    const [bare] = passIntervals(plain, 20 * mV, exact);
    const [late] = passIntervals(plain, 20 * mV, { ...exact, delay: 25 * ns });
    expect(late.start - bare.start).toBeCloseTo(25 * ns, 15);
    const uncertainties = strobeUncertainties(
      senseChannel({
        strobe: { aperture: 10 * ns, jitter: 2 * ns },
        detector: { uncertainty: 2 * mV, hysteresis: 2 * mV },
      }),
    );
    const [short] = passIntervals(plain, 20 * mV, { ...uncertainties, threshold: 0 });
    expect(short.start - bare.start).toBeCloseTo(11 * ns, 15);
    expect(bare.end - short.end).toBeCloseTo(11 * ns, 15);
    expect(uncertainties.threshold).toBeCloseTo(3 * mV, 12);
    const [sure] = passIntervals(plain, 20 * mV, { ...exact, threshold: 3 * mV });
    expect(sure.end).toBeCloseTo(passIntervals(plain, 23 * mV, exact)[0].end, 15);
  });

  it('follows a falling threshold', () => {
    const envelope = envelopeFrom([() => 30 * mV], [() => 0]);
    const [found] = passIntervals(envelope, 50 * mV, { ...exact, slope: -1e5 });
    expect(found.start).toBeCloseTo(200 * ns, 14);
    expect(found.end).toBeCloseTo(500 * ns, 14);
    const { margin, inForce } = windowAt(
      envelope,
      { time: 300 * ns, threshold: 50 * mV },
      { ...exact, slope: -1e5 },
    );
    expect(inForce.threshold).toBe(50 * mV);
    expect(margin.one).toBeCloseTo(10 * mV, 12);
    expect(margin.zero).toBeCloseTo(20 * mV, 12);
  });

  it('takes the least ONE and the greatest ZERO of several cases', () => {
    const weak = (t: number): number => 0.8 * one(t);
    const loud = (t: number): number => zero(t) + 3 * mV;
    const both = envelopeFrom([one, weak], [zero, loud]);
    const worst = envelopeFrom([weak], [loud]);
    expect(passIntervals(both, 20 * mV, exact)).toEqual(passIntervals(worst, 20 * mV, exact));
    expect(valueAt(both.time, both.oneHigh, 250 * ns)).toBeCloseTo(one(250 * ns), 12);
    expect(valueAt(both.time, both.zeroLow, 250 * ns)).toBeCloseTo(zero(250 * ns), 12);
  });

  it('finds the same band at a strobe as the thresholds at which that strobe passes', () => {
    const uncertainties = { ...exact, threshold: 2 * mV, guard: 7 * ns };
    for (const time of [215 * ns, 250 * ns, 270.3 * ns]) {
      const { low, high } = passBand(plain, time, uncertainties);
      const passes = (threshold: number): boolean =>
        passIntervals(plain, threshold, uncertainties).some((i) => i.start <= time && time <= i.end);
      expect(passes(low + 1e-9)).toBe(true);
      expect(passes(high - 1e-9)).toBe(true);
      expect(passes(low - 1e-9)).toBe(false);
      expect(passes(high + 1e-9)).toBe(false);
    }
  });

  it('opens in the plane exactly where some threshold passes', () => {
    const uncertainties = { ...exact, threshold: 3 * mV, guard: 5 * ns };
    const opening = findOpening(plain, uncertainties);
    expect(opening.length).toBeGreaterThan(50);
    for (const { time, low, high } of opening) {
      const band = passBand(plain, time, uncertainties);
      expect({ low, high }).toEqual(band);
    }
    const open = new Set(opening.map((o) => o.time));
    for (const t of plain.time) {
      const band = passBand(plain, t, uncertainties);
      expect(open.has(t)).toBe(band.low <= band.high);
    }
  });

  it('gives the same answer from the arrays of a finished window that went through JSON', () => {
    const design = { ...senseChannel(), cycle: { readWidth: 300 * ns, gap: 300 * ns } } as ReturnType<
      typeof senseChannel
    >;
    const { time, one: least, zero: greatest, oneHigh, zeroLow } = plain;
    const text = JSON.stringify({
      time: [...time],
      one: [...least],
      zero: [...greatest],
      oneHigh: [...oneHigh],
      zeroLow: [...zeroLow],
    });
    const at = { time: 240 * ns, threshold: 20 * mV };
    expect(windowAt(envelopeOf(JSON.parse(text), design), at, exact)).toEqual(windowAt(plain, at, exact));
  });
});

describe('a wider tolerance', () => {
  const volts = fc.double({ min: 0, max: 15 * mV, noNaN: true });
  const times = fc.double({ min: 0, max: 40 * ns, noNaN: true });
  const shape = fc.record({
    peak: fc.double({ min: 5 * mV, max: 80 * mV, noNaN: true }),
    centre: fc.double({ min: 150 * ns, max: 400 * ns, noNaN: true }),
    width: fc.double({ min: 40 * ns, max: 200 * ns, noNaN: true }),
    noise: fc.double({ min: 0, max: 20 * mV, noNaN: true }),
    noiseAt: fc.double({ min: 50 * ns, max: 500 * ns, noNaN: true }),
    threshold: fc.double({ min: 5 * mV, max: 60 * mV, noNaN: true }),
  });

  it('never widens the window, in threshold, aperture or jitter (500 random cases)', () => {
    let windows = 0;
    fc.assert(
      fc.property(shape, volts, volts, times, times, (s, u, du, g, dg) => {
        const bump = bell(s.noise, s.noiseAt, 60 * ns);
        const signal = bell(s.peak, s.centre, s.width);
        const envelope = envelopeFrom([(t) => spike(t) + signal(t) - bump(t)], [(t) => spike(t) + bump(t)], {
          step: 2 * ns,
        });
        const narrow = passIntervals(envelope, s.threshold, { ...exact, threshold: u, guard: g });
        const wide = passIntervals(envelope, s.threshold, { ...exact, threshold: u + du, guard: g + dg });
        windows += narrow.length;
        for (const w of wide)
          expect(narrow.some((n) => n.start <= w.start + 1e-18 && w.end <= n.end + 1e-18)).toBe(true);
        const total = (list: readonly { start: number; end: number }[]): number =>
          list.reduce((sum, i) => sum + i.end - i.start, 0);
        expect(total(wide)).toBeLessThanOrEqual(total(narrow) + 1e-18);
      }),
      { numRuns: 500, seed: 20 },
    );
    expect(windows).toBeGreaterThan(100);
  });
});

describe('the best pair', () => {
  it('is the centre of a rectangular opening, and its distance counts the smaller of the two fits', () => {
    // ONE at 50 mV between 100 and 300 ns; ZERO at 10 mV: sides of 200 ns and 40 mV.
    const box = envelopeFrom(
      [(t) => (t >= 100 * ns && t <= 300 * ns ? 50 * mV : -50 * mV)],
      [() => 10 * mV],
      { step: 0.5 * ns },
    );
    const pair = findBestPair(box, { ...exact, threshold: 2 * mV, guard: 20 * ns })!;
    expect(pair.time).toBeCloseTo(200 * ns, 9);
    expect(pair.distance).toBeCloseTo(5, 2);
    const other = findBestPair(box, { ...exact, threshold: 8 * mV, guard: 20 * ns })!;
    expect(other.threshold).toBeCloseTo(30 * mV, 6);
    expect(other.distance).toBeCloseTo(2.5, 3);
  });

  it('lies where a triangle holds the largest box (closed form)', () => {
    // ONE: 40 mV at 300 ns, falling to nothing 200 ns either side; ZERO: nothing. A box of half-sizes k u and k g
    // under the roof: 2 k u = 40 mV (1 - k g / 200 ns).
    const roof = envelopeFrom([(t) => 40 * mV * (1 - Math.abs(t - 300 * ns) / (200 * ns))], [() => 0]);
    const u = 3 * mV;
    const g = 12 * ns;
    const pair = findBestPair(roof, { ...exact, threshold: u, guard: g })!;
    const k = (40 * mV) / (2 * u + (40 * mV * g) / (200 * ns));
    expect(pair.distance).toBeCloseTo(k, 4);
    expect(pair.threshold).toBeCloseTo(k * u, 6);
    expect(pair.time).toBeCloseTo(300 * ns, 11);
  });

  it('is no nearer the edge than any other pair of a brute search', () => {
    const uncertainties = { ...exact, threshold: 1.5 * mV, guard: 8 * ns };
    const pair = findBestPair(plain, uncertainties)!;
    const fits = (time: number, threshold: number, k: number): boolean => {
      const band = passBand(plain, time, { ...exact, threshold: k * 1.5 * mV, guard: k * 8 * ns });
      return band.low <= threshold && threshold <= band.high;
    };
    expect(fits(pair.time, pair.threshold, pair.distance * 0.9999)).toBe(true);
    for (let t = 180; t < 320; t += 2)
      for (let v = 5; v < 40; v += 0.5) expect(fits(t * ns, v * mV, pair.distance * 1.002)).toBe(false);
  });

  it('does not exist when the ZERO covers the ONE', () => {
    expect(findBestPair(envelopeFrom([() => 5 * mV], [() => 9 * mV]), exact)).toBeUndefined();
  });
});

/** Twelve taps of which these pass. */
const tapsPassing = (passes: readonly number[]): { time: number; pass: boolean }[] =>
  Array.from({ length: 12 }, (_, k) => ({ time: k * 10 * ns, pass: passes.includes(k) }));

describe('strobe taps', () => {
  // A2: as reported of the PDP-8/E (maintenance manual vol. 1, DEC-8E-HMM1A-D-D, 1973).
  it('chooses the middle of three or more neighbouring taps, the later of two middles', () => {
    expect(chooseTap(tapsPassing([4, 5, 6]))).toBe(50 * ns);
    expect(chooseTap(tapsPassing([4, 5, 6, 7]))).toBe(60 * ns);
    expect(chooseTap(tapsPassing([0, 1, 2, 3, 4]))).toBe(20 * ns);
    expect(chooseTap(tapsPassing([1, 2, 3, 7, 8, 9, 10, 11]))).toBe(90 * ns);
  });

  it('chooses none when only two neighbours pass', () => {
    expect(chooseTap(tapsPassing([4, 5, 8, 9]))).toBeUndefined();
    expect(chooseTap([])).toBeUndefined();
  });

  it('lie on multiples of 10 ns and pass exactly inside the intervals', () => {
    const found = windowAt(plain, { time: undefined, threshold: 20 * mV }, exact);
    for (const tap of found.taps) {
      expect(Math.abs(Math.round(tap.time / (10 * ns)) * 10 * ns - tap.time)).toBeLessThan(1e-18);
      expect(tap.pass).toBe(found.intervals.some((i) => i.start <= tap.time && tap.time <= i.end));
    }
    expect(found.taps.filter((tap) => tap.pass).length).toBe(11);
    expect(found.tap).toBeDefined();
  });
});

const reason = (threshold: number, over = {}): string | undefined =>
  windowAt(plain, { time: undefined, threshold }, { ...exact, ...over }).reason;

describe('what a builder is told', () => {
  it('reports a ONE under the threshold at the strobe as a false zero, and only strictly under', () => {
    // A3: Törnquist, Elteknik 2 (1959), pp. 97-98: a disturbed ONE under the threshold reads as a ZERO.
    const flat = envelopeFrom([() => 15 * mV], [() => 2 * mV]);
    const codes = (threshold: number): readonly string[] =>
      windowAt(flat, { time: 300 * ns, threshold }, exact).notices!.map((n) => n.code);
    expect(codes(15.001 * mV)).toEqual(['false-zero']);
    expect(codes(15 * mV)).toEqual([]);
    expect(codes(1 * mV)).toEqual(['false-one']);
    expect(windowAt(flat, { time: 300 * ns, threshold: 20 * mV }, exact).notices![0].message).toContain(
      'one 1',
    );
  });

  it('names the cause when there is no window', () => {
    expect(reason(20 * mV)).toBeUndefined();
    expect(reason(300 * mV)).toContain('the least ONE is at most');
    expect(reason(20 * mV, { threshold: 18 * mV })).toContain('known only to ±18 mV');
    expect(reason(20 * mV, { guard: 80 * ns })).toContain('aperture and jitter take 160 ns');
    const level = envelopeFrom([one], [() => 6 * mV]);
    expect(windowAt(level, { time: undefined, threshold: 4 * mV }, exact).reason).toContain(
      'a threshold between 6 mV',
    );
    expect(
      windowAt(envelopeFrom([() => 5 * mV], [() => 9 * mV]), { time: undefined, threshold: 4 * mV }, exact)
        .reason,
    ).toContain('at any threshold');
  });

  it('gives margins and their ratio in dB', () => {
    const found = windowAt(
      envelopeFrom([() => 40 * mV], [() => 4 * mV]),
      { time: 200 * ns, threshold: 15 * mV },
      exact,
    );
    expect(found.margin.one).toBeCloseTo(25 * mV, 12);
    expect(found.margin.zero).toBeCloseTo(11 * mV, 12);
    expect(found.margin.total).toBeCloseTo(36 * mV, 12);
    expect(found.margin.ratioDb).toBeCloseTo(20, 9);
    expect(ratioInDb(1, 0)).toBe(Infinity);
    expect(ratioInDb(-1, 1)).toBe(-Infinity);
  });

  it('times the fall of the detector after the coupling spike of a ZERO, and how long a ONE holds it', () => {
    const { pulses } = windowAt(plain, { time: 250 * ns, threshold: 20 * mV }, exact);
    expect(pulses!.zero).toHaveLength(1);
    // sech^2 spike of 200 mV and 40 ns falls through 20 mV at 60 ns + 20 ns artanh(sqrt(0.9))/0.881374 and a little
    // later for the 6 mV bump under it.
    const alone = 60 * ns + (20 * ns * Math.atanh(Math.sqrt(0.9))) / Math.acosh(Math.SQRT2);
    expect(250 * ns - pulses!.zeroFallen!).toBeGreaterThan(alone);
    expect(250 * ns - pulses!.zeroFallen!).toBeLessThan(alone + 2 * ns);
    expect(pulses!.oneHeld!.before).toBeCloseTo(50 * ns, 9);
    expect(pulses!.oneHeld!.after).toBeCloseTo(50 * ns, 9);
  });

  it('looks only between the start of read and the start of write', () => {
    const writeBack = (t: number): number => one(t) + bell(60 * mV, 480 * ns, 50 * ns)(t);
    const found = passIntervals(
      envelopeFrom([writeBack], [zero], { search: { start: 0, end: 400 * ns } }),
      20 * mV,
      exact,
    );
    expect(found).toHaveLength(1);
    expect(passIntervals(envelopeFrom([writeBack], [zero]), 20 * mV, exact)).toHaveLength(2);
  });
});
