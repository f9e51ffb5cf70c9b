import { UnusableRun } from '../solver/finished.ts';
import { checkDesign } from '../check/check-design.ts';
import { applyPatches, type Patch } from '../base/json-patch.ts';
import { refused } from '../design/design-error.ts';
import type { Design } from '../design/design.ts';
import { askedDrive } from '../drive/at-temperature.ts';
import { FitCancelled, FitError, type BenchControl, type Simulate } from '../fitting/bench-runs.ts';
import type { Observed } from '../fitting/compare.ts';
import { independent, type Gaussian } from '../numerics/gaussian.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import { simulate as realSimulate } from '../simulate/simulate.ts';
import { SEARCHED } from '../strobe/case-runs.ts';
import { runEnsemble } from '../strobe/ensemble.ts';
import type { StrobeEnsemble } from '../strobe/ensemble-result.ts';
import type { Direction } from './direction.ts';
import { directionsOf } from './directions.ts';
import { knownAfter } from './known-after.ts';
import { wholeKnowledge, type Knowledge, type Known } from './knowledge.ts';
import { measuredDesigns, shownBy, type ShownCapture } from './seen-captures.ts';
import { shortcomingOf, type Shortcoming } from './shortcoming.ts';
import { endsAlong, slopesOf } from './slopes.ts';
import { FIGURES, giveStanding, SHOWN, standingOf, type Given, type Standing } from './standing.ts';

export interface OutlookRequest extends BenchControl {
  readonly known: Known;
  /** What is to be otherwise than in the design that is known: another size, current, temperature or winding. */
  readonly changes?: readonly Patch[];
  /** Where the traces are told (default: at the sense wire). */
  readonly observed?: Observed;
  readonly simulate?: Simulate;
}

/** A design, what is not known of it, and how everything that is told depends on that. */
export interface Outlook {
  readonly design: Design;
  /** On what it rests. */
  readonly told: Knowledge;
  readonly measured: readonly Design[];
  readonly directions: readonly Direction[];
  /** Of the directions, in z: before the captures are counted, and with them. */
  readonly before: Gaussian;
  readonly known: Gaussian;
  readonly seen: readonly ShownCapture[];
  readonly short: Shortcoming;
  readonly ensemble: StrobeEnsemble;
  readonly standing: Standing;
  readonly base: Given;
  /** How each figure, and each sample of each shown trace, changes per unit of each direction. */
  readonly slopes: readonly Float64Array[];
  give(design: Design): Given | undefined;
  readonly runs: CountedRuns;
  readonly simulate: Simulate;
}

/**
 * Throws DesignError, FitError or FitCancelled.
 *
 * @param later steps that whoever asks will take with it, of as many ends of directions: progress counts them
 */
export function outlookOn(request: OutlookRequest, later: (ends: number) => number): Outlook {
  const { changes = [], observed = 'sense', cancelled } = request;
  const known = wholeKnowledge(request.known);
  const design = designAsked(known, changes);
  const measured = measuredDesigns(known);
  const drives = measured.length > 0 ? measured.map(askedDrive) : drivesOfTest(design);
  const directions = directionsOf(design, known, drives);
  const ends = endsAlong(directions);
  const runs = counted(request, ends * (1 + measured.length) + later(ends));
  const { simulate } = runs;
  const ensemble = runEnsemble(design, { simulate, cases: 'corners', ...(cancelled ? { cancelled } : {}) });
  if (!('envelope' in ensemble))
    throw noAnswer(new UnusableRun(ensemble.failed.outcome, ensemble.failed.name).message);
  const standing = standingOf(ensemble);
  const coupling = repetitionCoupling(design, simulate);
  const give = (of: Design, finer = 1): Given | undefined =>
    giveStanding(of, standing, { simulate, observed, coupling, finer });
  const [base, coarse] = [give(design), give(design, SEARCHED)];
  if (base === undefined || coarse === undefined) throw noAnswer();
  const short = shortcomingOf(
    known.captures.map(({ missed }) => missed),
    base.figures,
  );
  const slopes = slopesOf(design, directions, vectorOf(coarse, standing), (of) => {
    const found = give(of, SEARCHED);
    runs.step();
    return found && vectorOf(found, standing);
  });
  const before = independent(
    directions.map(({ middle }) => middle),
    directions.map(({ spread }) => spread),
  );
  const seen = known.captures.flatMap((capture, i) => {
    const shown = shownBy(measured[i]!, directions, capture, short, { simulate, onRun: runs.step });
    return shown === undefined ? [] : [shown];
  });
  return {
    design,
    told: known,
    measured,
    directions,
    before,
    known: knownAfter(before, seen, known),
    seen,
    short,
    ensemble,
    standing,
    base,
    slopes,
    give,
    runs,
    simulate,
  };
}

/** The design that is asked for. Throws DesignError; of another core, since nothing was measured of that. */
export function designAsked({ design }: Known, changes: readonly Patch[]): Design {
  refuseOtherCore(changes);
  return checkDesign(applyPatches(design, changes));
}

/** Drives at which the core was read, of a design of which nothing else was measured; none where it is taken at its word. */
const drivesOfTest = ({ core }: Design): number[] =>
  core.range.switchingResistance.from === 'given'
    ? []
    : [core.test.fullDrive, ...(core.test.secondDrive === undefined ? [] : [core.test.secondDrive])];

/** Figures first, then the shown traces one after the other. */
export const vectorOf = ({ figures, probed }: Given, { shown }: Standing): Float64Array =>
  Float64Array.from([
    ...FIGURES.map((name) => figures[name]),
    ...SHOWN.flatMap((name) => Array.from(probed[shown[name]]!)),
  ]);

const noAnswer = (why?: string): FitError =>
  new FitError(
    '/design',
    `The design gives no prediction of a ONE and a ZERO: ${why ?? 'make numerics.step smaller or its wire values less extreme.'}`,
  );

function refuseOtherCore(changes: readonly Patch[]): void {
  const core = changes.findIndex(({ path }) => path === '/core' || path.startsWith('/core/'));
  if (core < 0) return;
  throw refused([
    {
      code: 'rule',
      field: changes[core]!.path,
      message: `A prediction must keep the core that was measured; received a change of ${changes[core]!.path}: leave it out, or predict from a design that has that core.`,
    },
  ]);
}

/** Runs of the model so far, and how far the work is. */
interface CountedRuns {
  readonly count: number;
  readonly simulate: Simulate;
  /** One step of those planned is done. */
  step(): void;
  /** All is done, whether or not every step that was planned was needed. */
  finish(): void;
}

/** Runs of the model, counted and ended when the work is cancelled. */
function counted(
  { simulate = realSimulate, cancelled, onProgress }: OutlookRequest,
  planned: number,
): CountedRuns {
  let done = 0;
  const tell = (steps: number): void => {
    done = Math.min(planned, steps);
    onProgress?.({ done, planned, runs: runs.count });
  };
  const runs = {
    count: 0,
    step: () => tell(done + 1),
    finish: () => tell(planned),
    simulate: ((design, options) => {
      if (cancelled?.()) throw new FitCancelled();
      runs.count++;
      const run = simulate(design, { ...options, ...(cancelled ? { cancelled } : {}) });
      if (run.outcome.kind === 'cancelled') throw new FitCancelled();
      return run;
    }) satisfies Simulate as Simulate,
  };
  onProgress?.({ done, planned, runs: 0 });
  return runs;
}
