import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { demo } from '../../demo-design.ts';

/** Sixteen cores, of which a ONE and a ZERO are both over 20 mV at 60 ns, in the half-selected cores' spike. */
const inTheSpike = (amplifier: object, detector: object = {}): StrobeWindow =>
  strobeWindow(
    demo('minimal', {
      mat: { rows: 4, columns: 4 },
      selected: { row: 1, column: 2 },
      strobe: { time: '60 ns' },
      amplifier,
      detector,
    }),
    { cases: 'quick' },
  );
const codes = ({ notices = [] }: StrobeWindow): string[] => notices.map(({ code }) => code);

describe('an amplifier at its limit at the strobe', () => {
  // 5 V of output at a gain of 1000 are 5 mV on the sense wire.
  const limited = inTheSpike({ gain: 1000 });

  it('is warned of where ONE and ZERO both stand there, and only there', () => {
    const notice = limited.notices!.find(({ code }) => code === 'overload')!;
    expect(notice.message).toMatch(/what is read there is the amplifier, not the cores/u);
    expect(notice.value).toBeCloseTo(5e-3, 6);
    expect(codes(inTheSpike({ gain: 20 }))).not.toContain('overload');
  });

  it('is the cause that is told of a ONE held under the threshold, and no core is said to give more than there is', () => {
    expect(limited.closedBy).toBe('one');
    expect(limited.reason).toMatch(
      /At 60 ns the amplifier at its limit or recovering from it takes [\d.]+ mV from the least ONE\./u,
    );
    expect(limited.reason).not.toMatch(/selected core/u);
  });

  it('is a step of the chain of the margin: what the limit leaves of the sum of the causes', () => {
    const sum = (name: string): number =>
      limited.chain.filter(({ step }) => step === name).reduce((all, { volts }) => all + volts, 0);
    const causes = ['selectedCore', 'directCoupling', 'halfSelectedReversible', 'halfSelectedIrreversible'];
    const linear = causes.reduce((all, name) => all + sum(name), 0);
    expect(sum('overload')).toBeCloseTo(5e-3 - linear, 6);
  });

  it('takes 50 ns to recover unless the design says otherwise', () => {
    expect(checkDesign({}).amplifier.recovery).toBe(50e-9);
  });
});
