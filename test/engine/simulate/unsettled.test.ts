/**
 * A run whose energy does not close is no answer: it has a name, and no door makes a window, a reading or a picture of it
 * without saying so. Doors that take a simulation are given one whose every run is such; `step` makes a real one.
 */
import { describe, expect, it } from 'vitest';
import { advise } from '../../../engine/advice/advice.ts';
import { channelReport } from '../../../engine/channel/channel-report.ts';
import { wordDependence } from '../../../engine/channel/stack.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import { diagnose } from '../../../engine/fitting/diagnosis/diagnose.ts';
import { fitDesign } from '../../../engine/fitting/fit-design.ts';
import { judgeCaptures } from '../../../engine/fitting/judge/judge-captures.ts';
import { disturbReadings } from '../../../engine/history/disturb-readings.ts';
import { MAT_PROGRAMMES } from '../../../engine/history/mat-programme.ts';
import { testMat } from '../../../engine/history/mat-test.ts';
import { buildPack } from '../../../engine/pack/build-pack.ts';
import { predict } from '../../../engine/predict/predict.ts';
import { makeReport } from '../../../engine/report/report.ts';
import { outcomeOf } from '../../../engine/simulate/outcome.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { UnusableRun } from '../../../engine/solver/finished.ts';
import type { SimulateOptions, Simulation } from '../../../engine/solver/result.ts';
import type { Recording } from '../../../engine/solver/run-problem.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { evaluatePoint, planStudy, STUDY_TOOLS } from '../../../engine/studies/study.ts';
import { simulationText } from '../../../server/print/simulation-text.ts';
import { windowText } from '../../../server/print/window-text.ts';
import { readOne } from '../../../web/compute/run-job.ts';

const ended = (residual: number, delivered = 1e-9): string =>
  outcomeOf({
    time: Float64Array.of(0, 1e-6),
    energy: { source: 1e-9, delivered, resistive: 0, stored: 0, cores: 0, residual },
  } as unknown as Recording).kind;

describe('a run', () => {
  it('is not settled where more than a hundredth is missing, of either sign, and of more than next to nothing', () => {
    expect(ended(2e-11)).toBe('not-settled');
    expect(ended(-2e-11)).toBe('not-settled');
    expect(ended(1e-12)).toBe('done');
    expect(ended(1e-15, 0)).toBe('done');
    // The books were not kept.
    expect(ended(NaN)).toBe('done');
  });
});

const raw = { mat: { rows: 4, columns: 4 }, numerics: { step: '400 ns' } };
const coarse = checkDesign(raw);
const board = checkDesign({ mat: { rows: 4, columns: 4 } });
const ADVICE = 'is not accounted for, where 1 % may be';

/** Every run loses its way. */
const lost = (design: Design, options?: SimulateOptions): Simulation => ({
  ...simulate(design, { ...options, until: Math.min(options?.until ?? 1, 300e-9) }),
  outcome: { kind: 'not-settled', time: 0, advice: `2 % ${ADVICE}` },
});

describe('steps far too long for the cores', () => {
  const run = simulate(coarse, { estimateError: false });

  it('leave energy that is missing, and the run says so in its outcome and, in its text, reads nothing', () => {
    expect(run.outcome).toMatchObject({ kind: 'not-settled' });
    const text = simulationText(run);
    expect(text).toContain('not-settled');
    expect(text).toContain(ADVICE);
    expect(text).not.toContain('Read as');
  });

  it('are told on the page beside the first trace', async () => {
    const told: string[] = [];
    await readOne({ raw, shown: { spanEnd: undefined, marked: [4e-6] } }, (piece) => {
      if (piece.kind === 'one') told.push(...piece.warnings.map(({ message }) => message));
    });
    expect(told[0]).toContain('ended as not-settled: the traces are not to be used');
  });
});

describe('where runs do not settle', () => {
  it('there is no window, not even of the other cases', () => {
    for (const cases of ['quick', 'full'] as const) {
      const window = strobeWindow(board, { cases, simulate: lost });
      expect(window.strobe).toBeUndefined();
      expect(window.verdict.design).toBe('fails');
      expect(window.reason).toContain(ADVICE);
      const text = windowText(board, window);
      expect(text).toContain(ADVICE);
      expect(text).not.toContain('NaN');
    }
    let count = 0;
    const once = (design: Design, options?: SimulateOptions): Simulation =>
      (count++ === 1 ? lost : simulate)(design, options);
    expect(runEnsemble(board, { cases: 'quick', simulate: once })).not.toHaveProperty('envelope');
  });

  it('advice, report and prediction say so', () => {
    expect(advise(board, { simulate: lost }).failed).toBeDefined();
    expect(makeReport(board, { simulate: lost })).toContain(ADVICE);
    expect(() => predict({ known: { design: { mat: { rows: 4, columns: 4 } } }, simulate: lost })).toThrow(
      ADVICE,
    );
  });

  it.each(['tolerance', 'shmoo', 'rate', 'scale', 'pattern', 'sensitivity', 'temperature'] as const)(
    'a point of a study (%s) does not pass, with the reason',
    (kind) => {
      const tools = { ...STUDY_TOOLS, simulate: lost };
      const plan = planStudy({ kind, design: { mat: { rows: 4, columns: 4 } }, options: {} } as never);
      const point = evaluatePoint(plan, 0, tools);
      const text = JSON.stringify(point);
      expect(text).toContain(ADVICE);
      expect(text).not.toContain('"pass":true');
    },
  );

  it('no capture is judged, fitted or diagnosed, and no pack is made', () => {
    const { time, senseVoltage: value } = simulate(board, { until: 500e-9 });
    const file = { mat: { rows: 4, columns: 4 } };
    const captures = [{ label: 'one', trace: { time, value } }];
    expect(() => fitDesign({ design: file, captures, unknowns: ['coreFlux'], simulate: lost })).toThrow(
      ADVICE,
    );
    expect(() => diagnose({ design: file, captures, simulate: lost })).toThrow(ADVICE);
    expect(() => judgeCaptures(raw, captures)).toThrow(ADVICE);
    expect(() => buildPack(board, { simulate: lost })).toThrow(UnusableRun);
  });

  it('a study that cannot be planned is refused under the name of the run', () => {
    const tools = { ...STUDY_TOOLS, simulate: lost };
    const plan = (): unknown =>
      planStudy({ kind: 'rate', design: { mat: { rows: 4, columns: 4 } }, options: {} } as never, tools);
    expect(plan).toThrow(UnusableRun);
    expect(plan).toThrow(ADVICE);
  });

  it('the channel, a word, disturb readings and a march are refused', () => {
    expect(() => channelReport(board, { simulate: lost })).toThrow(ADVICE);
    expect(() => wordDependence(board, lost)).toThrow(ADVICE);
    expect(() => disturbReadings(board, { simulate: lost })).toThrow(ADVICE);
    expect(() => testMat(board, MAT_PROGRAMMES[0]!, { simulate: lost })).toThrow(ADVICE);
  });
});
