/**
 * A measured core fitted to its published traces at some drives, and what is told of the drive that was left out, beside
 * what was measured there (the source stands in test/physics/measured-core.ts). What a model strays by between drives
 * (engine/core/unknowns/drive-stray.ts) has its size from a study of other traces of this core.
 */
import { expect, it } from 'vitest';
import { coreDraws } from '../../engine/core/unknowns/core-draws.ts';
import type { CoreChoice } from '../../engine/design/core.ts';
import { topOf } from '../../engine/fitting/jig/core-test.ts';
import { fitSeveral, type CoreSession } from '../../engine/fitting/jig/fit-several.ts';
import { modelTrace, type CoreCapture } from '../../engine/fitting/jig/trace-model.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import { disturbedReads, driveAndSense, fullSelects, readMeasured } from '../physics/measured-core.ts';
import { quantile, tell } from './figures.ts';

const CORES = 60;
/** The first split alone, as the others take minutes; SOAK_LEFT_OUT=whole is all of it. */
const WHOLE = process.env.SOAK_LEFT_OUT === 'whole';
/** Standard deviation of the scale of a current that is not published. */
const LABEL = 0.05;

const [at720, at640] = fullSelects() as [CoreCapture, CoreCapture];
const [after360, after340] = disturbedReads() as [CoreCapture, CoreCapture];
const at580 = driveAndSense();

/** What each fit sees, and the drive that it does not. */
const SPLITS: readonly {
  readonly name: string;
  readonly seen: readonly CoreCapture[];
  readonly out: readonly CoreCapture[];
}[] = [
  {
    name: 'the greater drives (640 and 720 mA) from the least alone (0.58 A)',
    seen: [at580],
    out: [at640, at720],
  },
  {
    name: 'the least drive (0.58 A) from the others',
    seen: [at640, at720, after360, after340],
    out: [at580],
  },
  {
    name: 'the middle drive (640 mA) from the others',
    seen: [at580, at720, after360, after340],
    out: [at640],
  },
  { name: 'the greatest drive (720 mA) from the others', seen: [at580, at640, after340], out: [at720] },
];

/** As a door takes it: samples of sense voltage and current on the capture's own time. */
function sessionOf(captures: readonly CoreCapture[]): CoreSession {
  return {
    captures: captures.map((capture) => {
      const { name, bit, train, spans, drive } = capture;
      const known = capture === at580;
      const { time, sense } = readMeasured(known ? 'drive-and-sense' : name);
      const trace = { time: Float64Array.from(time), value: Float64Array.from(sense) };
      return {
        name,
        bit,
        ...(train ? { train } : {}),
        spans: spans.map(([from, to]) => ({ from, to })),
        ...(drive.sag === undefined ? {} : { sag: drive.sag }),
        ...(known ? {} : { scaleDoubt: LABEL, startDoubt: 15e-9 }),
        instrument: known ? 'with its current' : 'series',
        sense: trace,
        current: { time: trace.time, value: drive.current },
      };
    }),
  };
}

/** V: the greatest of a trace in a span of its capture. */
function peakIn({ drive }: CoreCapture, trace: Float64Array, [from, to]: readonly [number, number]): number {
  return trace.reduce((most, v, k) => {
    const t = drive.start + (k + 0.5) * drive.step;
    return t >= from && t < to ? Math.max(most, Math.abs(v)) : most;
  }, 0);
}

/** 95 % of the peaks that cores which it could be give in a span. */
function toldOf(
  core: CoreChoice,
  capture: CoreCapture,
  span: readonly [number, number],
  asked: number | undefined,
) {
  const normal = normalDeviates(randomStream(7, 46));
  const doubt = capture === at580 ? 0 : LABEL;
  const peaks = coreDraws(core, CORES, 3, asked).cores.map((p) =>
    peakIn(capture, modelTrace(p, capture, 1 + doubt * normal()), span),
  );
  return { low: quantile(peaks, 0.025), high: quantile(peaks, 0.975) };
}

const mV = (volts: number): string => (1e3 * volts).toFixed(0);

it('holds the peaks of a measured core at drives that the fit has not seen', () => {
  let [asked, held, before] = [0, 0, 0];
  for (const { name, seen, out } of WHOLE ? SPLITS : SPLITS.slice(0, 1)) {
    const { core } = fitSeveral(sessionOf(seen));
    const words: string[] = [];
    for (const capture of out)
      // The third pulse of the trace with its current is the write; the others switch nothing.
      for (const k of capture === at580 ? [0, 2] : [0, 1]) {
        const span = capture.spans[k]!;
        const real = peakIn(capture, capture.sense, span);
        const told = toldOf(core, capture, span, topOf(capture));
        const without = toldOf(core, capture, span, undefined);
        const holds = ({ low, high }: { low: number; high: number }): boolean => low <= real && real <= high;
        asked++;
        if (holds(told)) held++;
        if (holds(without)) before++;
        words.push(
          `${k === 0 ? 'read' : 'write'} ${mV(real)} in ${mV(told.low)}..${mV(told.high)} (without the stray ${mV(without.low)}..${mV(without.high)})`,
        );
      }
    tell('O2', `peaks, mV, at ${name}`, words.join('; '), 'held');
  }
  if (WHOLE)
    tell(
      'O2',
      'peaks at drives left out of a fit that were held',
      `${held} of ${asked}; without what the model strays by ${before}`,
      '95 of 100',
    );
  expect(held).toBeGreaterThan(before);
});
