import { describe, expect, it } from 'vitest';
import { readGiven, type Source } from '../../web/bench/jig-given.ts';

const time = Float64Array.from({ length: 400 }, (_, k) => k * 1e-9);
/** A read of 0.74 A that rises over 50 ns from an instant on, with a level before it that is none of it. */
const currentFrom = (start: number): Source['trace'] => ({
  time,
  value: time.map((t) => 0.003 - 0.74 * Math.min(1, Math.max(0, (t - start) / 50e-9))),
});
const sources: readonly Source[] = [
  { label: 'ONE', trace: { time, value: time.map(() => 0) } },
  { label: 'ZERO', trace: { time, value: time.map(() => 0) } },
  { label: 'its current', trace: currentFrom(30e-9) },
  { label: 'that of the ZERO', trace: currentFrom(70e-9) },
  { label: 'begun too late', trace: currentFrom(-40e-9) },
];
const typed = {
  one: 'ONE',
  zero: 'ZERO',
  oneCurrent: '',
  zeroCurrent: '',
  oneStart: '25 ns',
  zeroStart: '35 ns',
  gain: '',
};

describe('what is to be read off captures of one core', () => {
  it('takes start, rise and full drive from the captured current, and the start as typed where there is none', () => {
    const asked = readGiven({ ...typed, oneCurrent: 'its current' }, sources, '');
    if (typeof asked === 'string') throw new Error(asked);
    const { captures, drive } = asked;
    expect(Math.abs(drive!.fullDrive - 0.74)).toBeLessThan(1e-3);
    expect(Math.abs(captures.one.edge.start - 30e-9)).toBeLessThan(1e-9);
    expect(Math.abs(captures.one.edge.rise - 50e-9)).toBeLessThan(1e-9);
    expect(captures.disturbedZero!.edge).toEqual({ start: 35e-9, rise: captures.one.edge.rise });
    const both = readGiven(
      { ...typed, oneCurrent: 'its current', zeroCurrent: 'that of the ZERO' },
      sources,
      '',
    );
    if (typeof both === 'string') throw new Error(both);
    expect(Math.abs(both.captures.disturbedZero!.edge.start - 70e-9)).toBeLessThan(1e-9);
  });

  it('takes all as typed without a current', () => {
    expect(readGiven(typed, sources, '50 ns')).toMatchObject({
      captures: {
        one: { edge: { start: 25e-9, rise: 50e-9 } },
        disturbedZero: { edge: { start: 35e-9, rise: 50e-9 } },
        gain: 1,
      },
      drive: undefined,
    });
    expect(readGiven(typed, sources, '')).toContain('The rise of the drive must be a time with its unit');
  });

  it('says of which current what is wrong with it', () => {
    const late = readGiven({ ...typed, oneCurrent: 'begun too late' }, sources, '50 ns');
    expect(late).toContain('Current beside the ONE');
    expect(late).toContain('at least 5 samples before its first pulse');
  });
});
