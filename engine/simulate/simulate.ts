import { amplifyAfter, memoryOf, outputAfter } from '../sense-amplifier/amplify-after.ts';
import { bellAt, peakTime } from '../core/closed-forms.ts';
import { stepAnswerAt } from '../core/step-answer.ts';
import { atTemperature } from '../core/model.ts';
import { lazily } from '../base/lazily.ts';
import type { Design } from '../design/design.ts';
import { warmCurrents } from '../drive/at-temperature.ts';
import { readStrobe } from '../sense-amplifier/detector.ts';
import { pulseInstants } from '../drive/programme.ts';
import { outcomeOf } from './outcome.ts';
import { integrate } from '../solver/integrate.ts';
import { chooseSections } from '../network/sections.ts';
import { baselineShift } from '../sense-amplifier/periodic-steady-state.ts';
import { prepareRun } from '../solver/prepare-run.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import { makeResampler, sampleTimes } from '../solver/resample.ts';
import {
  type RunError,
  type SimulateOptions,
  type Simulation,
  type StrobeReading,
} from '../solver/result.ts';
import { estimateError, MAX_FINER } from '../solver/run-error.ts';
import { doubtOf } from '../solver/trace-doubt.ts';
import { storedBits } from '../mat/stored-pattern.ts';
import { plannedPolarity, wirePath } from '../mat/winding.ts';

/**
 * Runs a design's programme and returns the observed (last) cycle: sense voltage (V, u = v_B - v_A, positive for a
 * read of a ONE where the sense wire's polarity is +1), its split by cause, currents (A), energies (J), and the bit read.
 *
 * A run that goes wrong numerically ends with a named outcome, not an exception; bad designs never get here
 * (checkDesign refuses them).
 */
export function simulate(design: Design, options: SimulateOptions = {}): Simulation {
  const path = wirePath(design);
  const bits = options.bits ?? storedBits(design);
  const finer = Math.min(options.finer ?? 1, MAX_FINER);
  const wanted = Math.min(path.order.length, Math.ceil(finer * chooseSections(design, path.order.length)));
  const refine = finer * (options.refine ?? 1);
  const asked = { ...options, heardFor: memoryOf(design.amplifier) };
  const problem = prepareRun(design, path, wanted, bits, refine, asked);
  const run = integrate(problem);
  const time = sampleTimes(run.time.at(-1)!, design.numerics.output);
  const at = makeResampler(run.time, run.jumps, time);

  const endA = at(run.endA);
  const endB = at(run.endB);
  const senseVoltage = new Float64Array(time.length);
  const commonMode = new Float64Array(time.length);
  for (let i = 0; i < time.length; i++) {
    senseVoltage[i] = endB[i]! - endA[i]!;
    commonMode[i] = (endB[i]! + endA[i]!) / 2;
  }
  const observed = design.programme.at(-1)!;
  const sign = plannedPolarity(design, observed.row, observed.column);
  const coupling = options.coupling ?? repetitionCoupling(design, simulate, bits);
  const heard = { time, senseVoltage, commonMode };
  const { output } = outputAfter(design, run.before, heard, { sign, coupling });
  const part = (p: number): Float64Array => at(run.parts[p]!);

  const told = {
    design,
    outcome: outcomeOf(run),
    time,
    senseVoltage,
    commonMode,
    contributions:
      options.contributions === false
        ? undefined
        : {
            directCoupling: part(0),
            halfSelectedReversible: part(1),
            halfSelectedIrreversible: part(2),
            selectedCore: part(3),
            inhibit: part(4),
          },
    amplifierOutput: output,
    currents: lazily(
      {},
      {
        x: () => at(run.x),
        y: () => at(run.y),
        inhibit: () => at(run.inhibit),
        sense: () => at(run.wire),
      },
    ),
    selected: lazily(
      {},
      {
        flux: () => at(run.selectedFlux),
        state: () => at(run.selectedState),
        drive: () => at(run.selectedDrive),
      },
    ),
    ...(coupling === 0 ? {} : { baseline: baselineShift(design.amplifier, coupling) }),
    ...(options.sharesAt === undefined ? {} : { shares: run.shares }),
    energy: run.energy,
    fluxClosure: run.fluxClosure,
    error: options.estimateError === false ? undefined : errorOf(),
    method: {
      steps: run.steps,
      sections: problem.sections.count,
      classes: problem.classes.size,
      step: problem.rule.max / refine,
      loop: (problem.byCores ? 'core steps' : 'coupled') as Simulation['method']['loop'],
    },
  };
  const latched = lazily(
    {},
    { amplified: () => amplifyAfter(design, run.before, heard, { sign, coupling }) },
  );
  return lazily(told, { detectorOutput: () => latched.amplified.detector, strobe });

  function strobe(): StrobeReading {
    const at = design.strobe.time ?? expectedPeak(design) + design.detector.delay;
    const { referred, pulses } = latched.amplified;
    return readStrobe(design, time, referred, pulses, at);
  }

  /** Against a companion run with doubled steps and about half the sections (run-error.ts). */
  function errorOf(): RunError {
    const plain = { ...asked, contributions: false, balance: false, sharesAt: [] };
    const companion = integrate(prepareRun(design, path, Math.ceil(wanted / 2), bits, refine / 2, plain));
    const of = makeResampler(companion.time, companion.jumps, time);
    const a = of(companion.endA);
    const coarse = of(companion.endB).map((b, i) => b - a[i]!);
    const { jumps } = problem.cycles.at(-1)!.programme;
    return estimateError(time, senseVoltage, coarse, jumps, doubtOf(run, time, design.wire.lossTime));
  }
}

/** When a fully driven ONE is expected to peak, s from the start of read: closed form for a step at mid-edge. */
export function expectedPeak(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const at = pulseInstants(design);
  const drive = warmCurrents(design).fullRead;
  const peak = stepAnswerAt(p, drive)?.peakTime ?? peakTime(bellAt(p, drive));
  const start = Math.max(at.x.readOn, at.y.readOn);
  return Math.max(start, Math.min(start + peak, at.x.readOff));
}
