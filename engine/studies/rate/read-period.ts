import type { Design } from '../../design/design.ts';
import { valueAt } from '../../sense-amplifier/detector.ts';
import { UnusableRun } from '../../solver/finished.ts';
import type { Simulation } from '../../solver/result.ts';
import { runEnsemble } from '../../strobe/ensemble.ts';
import type { StrobeEnsemble } from '../../strobe/ensemble-result.ts';
import { strobeUncertainties } from '../../strobe/envelope.ts';
import type { StrobeEnvelope } from '../../strobe/envelope.ts';
import { partsAt } from '../../strobe/parts.ts';
import { windowAt } from '../../strobe/window-at.ts';
import type { WindowAnswer } from '../../strobe/window-result.ts';
import { casesOf, readEnvelope, runCases } from '../shared/reading.ts';
import type { Reading } from '../shared/reading.ts';
import type { StudyPlan, StudyTools } from '../shared/shape.ts';
import type { RateOptions } from './rate-options.ts';

/** Runs of one cycle that a window as designed comes to, from above: some ninety cases, many of two cycles, at half the price. */
export const NOMINAL_RUNS = 100;
/** The same of its quick cases, at full price. */
export const QUICK_RUNS = 30;

/** What a period leaves at the strobe; the size, V, of what inhibit has left on the sense wire there. */
interface AtPeriod {
  readonly reading: Reading;
  readonly pulses: WindowAnswer['pulses'];
  readonly tail: number;
}

export const ofWindow = ({ options }: StudyPlan<RateOptions>): boolean => options.cases === 'window';

export function readCases(
  design: Design,
  plan: StudyPlan<RateOptions>,
  couplings: readonly number[],
  tools: StudyTools,
): AtPeriod {
  const { envelope, runs } = runCases(design, casesOf(plan), tools, true, couplings);
  const reading = readEnvelope(design, envelope);
  return {
    reading,
    pulses: pulsesAt(design, envelope, reading),
    tail: Math.max(...runs.map((run) => inhibitAt(run, reading.strobe - design.detector.delay))),
  };
}

/**
 * As a strobe window is judged as designed: the worst of all patterns, disturb states, histories and addresses. Where
 * the design does not say what share of the cycles is inhibited and its amplifier is coupled, the lesser of none and all.
 */
export function readAsWindow(
  design: Design,
  tools: StudyTools,
  cases: 'quick' | 'nominal' = 'nominal',
): AtPeriod {
  const { inhibitedShare } = design.cycle;
  const open = inhibitedShare === undefined && design.amplifier.highPass > 0;
  const shares = open ? [0, 1] : [inhibitedShare];
  const found = shares.map((share) => {
    const shared = { ...design, cycle: { ...design.cycle, inhibitedShare: share } };
    const { envelope, worst } = windowEnsemble(shared, tools, cases);
    const reading = readEnvelope(shared, envelope);
    const seen = reading.strobe - design.detector.delay;
    const tails = [worst.one, worst.zero].map((parts) => Math.abs(partsAt(parts, seen).parts.inhibit));
    return { reading, pulses: pulsesAt(shared, envelope, reading), tail: Math.max(...tails) };
  });
  const lesser = (a: AtPeriod, b: AtPeriod): AtPeriod =>
    (b.reading.margin ?? -Infinity) < (a.reading.margin ?? -Infinity) ? b : a;
  return { ...found.reduce(lesser), tail: Math.max(...found.map(({ tail }) => tail)) };
}

/** @throws UnusableRun: the one without which there is no answer */
function windowEnsemble(
  design: Design,
  { simulate, cancelled }: StudyTools,
  cases: 'quick' | 'nominal',
): StrobeEnsemble {
  const found = runEnsemble(design, { simulate, cases, ...(cancelled ? { cancelled } : {}) });
  if ('envelope' in found) return found;
  const { name, outcome } = found.failed;
  throw new UnusableRun(outcome, name);
}

function pulsesAt(
  design: Design,
  envelope: StrobeEnvelope,
  { strobe, threshold }: Reading,
): AtPeriod['pulses'] {
  return windowAt(envelope, { time: strobe, threshold }, strobeUncertainties(design)).pulses;
}

/** Where the design is read as it stands: at its own strobe, or at the best of its window. */
export function windowInForce(design: Design, tools: StudyTools): { time: number; threshold: number } {
  const { strobe, threshold } = readAsWindow(design, tools).reading;
  return { time: strobe, threshold };
}

/** What inhibit has left on the sense wire at an instant, V, as a size. */
function inhibitAt(run: Simulation, t: number): number {
  return run.contributions ? Math.abs(valueAt(run.time, run.contributions.inhibit, t)) : 0;
}
