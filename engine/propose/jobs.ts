import type { Json } from '../base/json-patch.ts';
import { buildNumbers } from '../estimates/build-numbers.ts';
import { simulate } from '../simulate/simulate.ts';
import type { Verdict } from '../strobe/verdict-of-sets.ts';
import { wholeWindow } from '../studies/whole-window.ts';
import { designWarnings } from '../warnings/design-warnings.ts';
import { build, orRefused } from './build.ts';
import { climb } from './climb.ts';
import type { Combination } from './combinations.ts';
import { bindings } from './bindings.ts';
import { firstCases } from './judge.ts';
import type { Run } from './run.ts';
import { foundOf, refine } from './refine.ts';
import type { Found } from './refine.ts';
import { movesOf } from './moves.ts';
import type { ValueRange } from './moves.ts';
import { relax } from './relax.ts';
import type { Relaxed } from './relax.ts';
import { readNeeds } from './needs.ts';
import type { Needs } from './needs.ts';
import { startOf } from './start.ts';
import type { Variables } from './variables.ts';

/**
 * One piece of a search, for one worker; its answer depends on nothing else. `try`: is the combination worth a search?
 * `refine`: search it, and prove what was found by the strobe window of the file itself. `relax`: one need changed until
 * the build that came nearest does all that is asked for. `move`: how far each value of a proposed build may move.
 */
export type ProposalJob =
  | { readonly step: 'try' | 'refine'; readonly needs: Json; readonly combination: Combination }
  | {
      readonly step: 'relax';
      readonly needs: Json;
      readonly combination: Combination;
      readonly start: Variables;
      readonly lever: string;
      /** A second need that is relaxed with it, as far along its way as the first. */
      readonly also?: string;
    }
  | { readonly step: 'move'; readonly needs: Json; readonly combination: Combination; readonly found: Found };

/** From a full strobe window of exactly the proposed file, and closed forms of it. */
export interface Proof {
  readonly verdict: Verdict;
  /** V and s at the corners. */
  readonly margin: number;
  readonly width: number;
  readonly setBy: { readonly one: string; readonly zero: string };
  /** Wires through a core, kinds of them; drivers; sense amplifiers, of the whole memory. */
  readonly wires: number;
  readonly drivers: number;
  readonly amplifiers: number;
  /** A on average, all bits ZERO, at the period asked for; A at the peak. */
  readonly supplyAverage: number;
  readonly supplyPeak: number;
  /** V that X, Y and the inhibit driver need. */
  readonly driverVolts: number;
  readonly inhibitVolts: number;
  /** s. */
  readonly shortestCycle: number;
  /** Sentences of `check` about the file. */
  readonly warnings: readonly string[];
}

export type JobResult =
  | { readonly step: 'try' | 'refine'; readonly found: Proved | null; readonly combination: Combination }
  | { readonly step: 'relax'; readonly relaxed: Relaxed }
  | {
      readonly step: 'move';
      readonly combination: Combination;
      readonly ranges: readonly ValueRange[];
    };

/** A build with its proof; none where the window of the file was not run, because it does not do all that is asked for. */
export interface Proved extends Found {
  readonly proof?: Proof;
}

export interface JobTools {
  readonly simulate?: Run;
  readonly cancelled?: () => boolean;
}

/** Points that a combination is tried with. */
const TRIED = 8;
export function runProposalJob(job: ProposalJob, tools: JobTools = {}): JobResult {
  const needs = readNeeds(job.needs);
  const inner = tools.simulate ?? simulate;
  const { cancelled } = tools;
  const run: Run = (design, options) => inner(design, { ...options, ...(cancelled ? { cancelled } : {}) });
  const how = { run, ...(cancelled ? { cancelled } : {}) };
  const { combination } = job;
  if (job.step === 'relax')
    return { step: 'relax', relaxed: relax(needs, combination, job.start, [job.lever, job.also], how) };
  if (job.step === 'move') return { step: 'move', combination, ranges: movesOf(needs, job.found, how) };
  const start = startOf(needs, combination);
  const none = { step: job.step, combination, found: null };
  if (start === undefined) return none;
  if (job.step === 'try') {
    const point = climb(needs, combination, start, { ...how, cases: firstCases, points: TRIED });
    return point ? { ...none, found: foundOf(combination, point, point.judged) } : none;
  }
  const best = refine(needs, combination, start, how);
  return best ? { ...none, found: prove(needs, best, how) } : none;
}

/** The build with its strobe and threshold, rounded, and what the strobe window says of that file. */
function prove(
  needs: Needs,
  found: Found,
  { run, cancelled }: { readonly run: Run; readonly cancelled?: () => boolean },
): Proved {
  const built = orRefused(() => build(needs, found.combination, found.variables, found));
  if (built === undefined) return found;
  const { file, design } = built;
  const told = { ...found, design: file };
  if (found.value < 1 || cancelled?.() === true) return told;
  const window = wholeWindow(design, { simulate: run, parts: true, ...(cancelled ? { cancelled } : {}) });
  const { verdict, corners } = window;
  if (corners === undefined || verdict.sets.corners === null) return told;
  const numbers = buildNumbers(design);
  const lines = numbers.needs.filter(({ line }) => line !== 'inhibit').map(({ needed }) => needed);
  const { winding, amplifiers } = found.combination;
  return {
    ...told,
    binding: bindings(needs, design),
    proof: {
      verdict,
      margin: verdict.sets.corners.margin,
      width: verdict.sets.corners.width,
      setBy: { one: corners.one, zero: corners.zero },
      wires: winding.startsWith('shared') ? 3 : 4,
      drivers: numbers.drivers.withInhibit,
      amplifiers: amplifiers * needs.bits,
      supplyAverage: numbers.supplyCurrent.atRate,
      supplyPeak: numbers.peak.current,
      driverVolts: Math.max(...lines),
      inhibitVolts: numbers.needs.find(({ line }) => line === 'inhibit')!.needed,
      shortestCycle: numbers.limits.shortest,
      warnings: designWarnings(design).map(({ message }) => message),
    },
  };
}
