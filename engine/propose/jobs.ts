import type { Json } from '../base/json-patch.ts';
import { simulate } from '../simulate/simulate.ts';
import { climb } from './climb.ts';
import type { Combination } from './combinations.ts';
import { firstCases } from './first-cases.ts';
import type { Run } from './run.ts';
import { foundOf, refine } from './refine.ts';
import type { Found } from './refine.ts';
import { movesOf } from './moves.ts';
import type { ValueRange } from './moves.ts';
import { proveWithYield } from './prove.ts';
import type { Proved } from './prove.ts';
import { relax } from './relax.ts';
import type { Relaxed } from './relax.ts';
import { readNeeds } from './needs.ts';
import { startOf } from './start.ts';
import type { Variables } from './variables.ts';

/**
 * One piece of a search, for one worker; its answer depends on nothing else. `try`: is the combination worth a search?
 * `refine`: search it, and prove what was found by the strobe window of the file itself. `relax`: one need changed until
 * the build that came nearest does all that is asked for. `move`: how far each value of a proposed build may move.
 */
export type ProposalJob =
  | { readonly step: 'try'; readonly needs: Json; readonly combination: Combination }
  | {
      readonly step: 'refine';
      readonly needs: Json;
      readonly combination: Combination;
      /** Where its trial came to. */
      readonly start: Variables;
    }
  | {
      readonly step: 'relax';
      readonly needs: Json;
      readonly combination: Combination;
      readonly start: Pick<Found, 'variables' | 'setBy'>;
      readonly lever: string;
      /** A second need that is relaxed with it, as far along its way as the first. */
      readonly also?: string;
    }
  | { readonly step: 'move'; readonly needs: Json; readonly combination: Combination; readonly found: Found };

export type JobResult =
  | { readonly step: 'try' | 'refine'; readonly found: Proved | null; readonly combination: Combination }
  | { readonly step: 'relax'; readonly relaxed: Relaxed }
  | {
      readonly step: 'move';
      readonly combination: Combination;
      readonly ranges: readonly ValueRange[];
    };

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
  const none = { step: job.step, combination, found: null };
  if (job.step === 'try') {
    const start = startOf(needs, combination);
    if (start === undefined) return none;
    const point = climb(needs, combination, start, { ...how, cases: firstCases, points: TRIED });
    return point ? { ...none, found: foundOf(combination, point, point.judged) } : none;
  }
  const best = refine(needs, combination, job.start, how);
  return best ? { ...none, found: proveWithYield(needs, best, how) } : none;
}
