import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { polarityOf } from '../../engine/mat/winding.ts';
import { referToWire } from '../../engine/sense-amplifier/referred.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { signedBand } from '../../web/model/signed-band.ts';
import type { Run } from '../../web/model/run.ts';
import { signedOutput } from '../../web/stage/trace/signed-reads.ts';

const BOARD = { mat: { rows: 8, columns: 8 }, winding: { kind: 'shared-two-halves' } };
const MAT = checkDesign(BOARD);
/** A core that the wire passes in one way, and one that it passes in the other. */
const CORES = ([1, -1] as const).map((sign) => polarityOf(MAT.mat, MAT.winding).indexOf(sign)) as [
  number,
  number,
];

/** A read of a core by an amplifier that hears both polarities. */
function runOf(index: number): Run {
  const design = checkDesign({
    ...BOARD,
    selected: { row: Math.floor(index / 8), column: index % 8, bit: 1 },
    amplifier: { polarity: 'either', highPass: '100 kHz' },
    cycle: { inhibitedShare: 0.7 },
  });
  const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
  if (!('envelope' in ensemble)) throw new Error('The ensemble failed.');
  const read = (bit: 0 | 1) => simulate({ ...design, selected: { ...design.selected, bit } });
  return { design, one: read(1), zero: read(0), ensemble, reason: undefined, grade: 'quick', warnings: [] };
}

describe.each(CORES)('the signed band of all cases, read in core %i', (index) => {
  const run = runOf(index);
  const band = signedBand(run)!;
  const { envelope } = run.ensemble!;

  it('is what the rectifying amplifier makes the judged envelope of', () => {
    band.time.forEach((_, i) => {
      const [low, high] = [band.zero.low[i]!, band.zero.high[i]!];
      expect(Math.max(Math.abs(low), Math.abs(high))).toBe(envelope.zero[i]);
      if (band.one.low[i]! > 0) expect(band.one.low[i]).toBe(envelope.one[i]);
      if (band.one.high[i]! < 0) expect(-band.one.high[i]!).toBe(envelope.one[i]);
    });
  });

  it('goes to the side to which this read goes as an amplifier that goes by the address hears it', () => {
    const { design } = run;
    const polarity = polarityOf(design.mat, design.winding)[index]!;
    const byAddress = simulate({ ...design, amplifier: { ...design.amplifier, polarity: 'address' } });
    const wanted = referToWire(design.amplifier, byAddress.amplifierOutput).map((volts) => polarity * volts);
    const own = signedOutput(run.one);
    const peak = wanted.reduce((best, v, i) => (Math.abs(v) > Math.abs(wanted[best]!) ? i : best), 0);
    expect(Math.abs(wanted[peak]!)).toBeGreaterThan(5e-3);
    expect(run.one.baseline).not.toBe(undefined);
    // Where it crosses zero within a microvolt either sign will do.
    own.forEach((volts, i) => expect(Math.abs(volts - wanted[i]!)).toBeLessThan(2e-6));
    const bell = envelope.one.reduce((best, v, i) => (v > envelope.one[best]! ? i : best), 0);
    expect(Math.sign(band.one.low[bell]!)).toBe(Math.sign(wanted[bell]!));
    expect(Math.sign(band.one.high[bell]!)).toBe(Math.sign(wanted[bell]!));
  });
});

it('was looked at on cores of both polarities', () => {
  const [plus, minus] = CORES.map((index) => Math.sign(signedBand(runOf(index))!.one.high[150]!));
  expect(plus).toBe(-minus!);
});
