import type { Json } from '../../base/json-patch.ts';
import { designToJson } from '../../design/design-to-json.ts';
import type { Design } from '../../design/design.ts';
import { normalQuantile } from '../../numerics/statistics.ts';
import { SEARCHED } from '../../strobe/case-runs.ts';
import type { PartsYield } from '../../strobe/verdict-of-sets.ts';
import type { StudyPlan, StudyTools } from '../shared/shape.ts';
import { drawShared } from './draw.ts';
import { makeBuild, readMargin } from './read.ts';
import { judgeStack, MOST_READS, RULE_RUNS, type StackVerdict } from './stack.ts';
import type { ToleranceOptions } from './tolerance-options.ts';
import { tolerance } from './tolerance.ts';
import { yieldOf } from './yields.ts';

type Drawn = StackVerdict['verdict'];
const PASSES = { mat: 'passes', stack: 'passes' } as const;
/** V: a draw whose least margin is nearer to nothing is read at full; runs of a search are off by less (strobe/case-runs.ts). */
const NEAR = 0.1e-3;

/** Fewest draws, and most, whatever yield is asked for. */
const FEWEST = 200;
const MOST = 2000;
/** Times as many draws as would show the yield that is asked for if every one were good. */
const SPARE = 1.5;

/** Draws from which the share of good ones that is asked for can be told with 95 % confidence. */
function drawsFor(wanted: number): number {
  const z = normalQuantile(0.975);
  const shown = (z ** 2 * wanted) / Math.max(1e-9, 1 - wanted);
  return Math.round(Math.min(MOST, Math.max(FEWEST, SPARE * shown)));
}

/** Runs that this comes to at most, for a price: in every draw one bit and the weakest others, each read as ONE and as ZERO. */
export const partsRuns = (wanted: number): number => drawsFor(wanted) * (2 + 2 * MOST_READS) + RULE_RUNS;

/**
 * Whole mats and whole stacks of parts as they come, drawn as the tolerance study draws them and read at the design's
 * strobe: the share that reads every bit. A draw that cannot be built (its edges no longer fit its
 * cycle) or whose run does not end counts either way. The seed is that of the
 * stored pattern.
 *
 * @returns undefined when it was cancelled, or where the design's own reads do not end and nothing can be drawn about them
 */
export function drawParts(design: Design, tools: StudyTools): PartsYield | undefined {
  const raw = designToJson(design) as unknown as Json;
  const { seed } = design.stored;
  const draws = drawsFor(design.requirement.yield);
  const plan = planDraws();
  if (plan === undefined) return undefined;
  const { reads, before } = plan.options;
  // The stack is asked for, by default.
  const rules = plan.options.rules!;
  const how = { reads, before };
  const strobe = plan.nominal?.time ?? 0;
  const { rows, columns, mats } = design.mat;
  const searched: StudyTools = {
    ...tools,
    simulate: (held, options) => tools.simulate(held, { ...options, finer: SEARCHED }),
  };
  const drawn: { readonly mat: Drawn; readonly stack: Drawn }[] = [];
  for (let index = 0; index < draws; index++) {
    if (tools.cancelled?.() === true) return undefined;
    drawn.push(judgeDraw(index));
  }
  return {
    mat: yieldOf(drawn.map(({ mat }) => mat)),
    stack: yieldOf(drawn.map(({ stack }) => stack)),
    draws,
    seed,
  };

  function planDraws(): StudyPlan<ToleranceOptions> | undefined {
    try {
      return tolerance.plan({ kind: 'tolerance', design: raw, options: { draws, seed } }, design, tools);
    } catch {
      return undefined;
    }
  }

  /** Judged by runs of a search, and again at full where these come near the limit or do not pass. */
  function judgeDraw(index: number): { readonly mat: Drawn; readonly stack: Drawn } {
    try {
      const quick = judgeBuild(index, searched);
      if (quick.stack.verdict === 'passes' && quick.stack.least > NEAR) return PASSES;
      const { mat, stack } = judgeBuild(index, tools);
      return { mat: mat.verdict, stack: stack.verdict };
    } catch {
      return { mat: 'doubtful', stack: 'doubtful' };
    }
  }

  /** The stack of a draw, and its first mat: where the stack passes, so does each mat of it. */
  function judgeBuild(
    index: number,
    by: StudyTools,
  ): { readonly mat: StackVerdict; readonly stack: StackVerdict } {
    const shared = drawShared(design, seed, index);
    const at = { mat: 0, core: Math.floor(shared.address * rows * columns) };
    const build = makeBuild(raw, design, { shared, seed, index }, strobe, by);
    const known = { one: readMargin(build, how, at, 1, by), zero: readMargin(build, how, at, 0, by) };
    const judged = (of: number): StackVerdict => judgeStack(build, how, rules, at, known, by, of);
    const stack = judged(mats);
    if (mats === 1 || stack.verdict === 'passes') return { mat: stack, stack };
    const mat = judged(1);
    return { mat, stack: mat.verdict === 'fails' ? mat : stack };
  }
}
