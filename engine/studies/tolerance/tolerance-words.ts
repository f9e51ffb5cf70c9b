import { formatQuantity } from '../../base/format-quantity.ts';
import { quantile, median, leastOf } from '../../numerics/statistics.ts';
import { formatEstimate } from '../shared/format-estimate.ts';
import type { Estimate, StudyResult, PointResult, StudyPlan } from '../shared/shape.ts';
import type { ToleranceOptions } from './tolerance-options.ts';
import type { Before } from './read.ts';
import { MOST_READS, type StackRules } from './stack.ts';
import type { SideShares } from './summary.ts';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const WORD = { one: 'ONE', zero: 'ZERO' } as const;

const BEFORE_WORDS: Readonly<Record<Before, string>> = {
  core: 'Before each read the inhibit current has disturbed the core that is read: a ZERO was kept by its own inhibited write, a ONE heard one at another address; what inhibit leaves on the wire is not in it.',
  cycle:
    'Each read follows an inhibited cycle, run in full: for a ZERO its own write, for a ONE a write at another address.',
  nothing: 'No cycle goes before the reads, so the inhibit current is not felt.',
};

/** What a summary says in sentences. */
interface Found {
  readonly estimates: readonly Estimate[];
  /** V, of the bits read. */
  readonly margins: readonly number[];
  /** The draw of the least of them. */
  readonly worst: PointResult | undefined;
  readonly shares: readonly SideShares[];
  /** Results whose stack was judged. */
  readonly stacks: readonly PointResult[];
}

/** First how much of the variance the inputs explain, for all that is said of causes hangs on it; then what was found. */
export function toleranceFindings(plan: StudyPlan<ToleranceOptions>, found: Found): string[] {
  const { estimates, margins, worst, shares, stacks } = found;
  const volts = (value: number): string => formatQuantity(value, 'V');
  return [
    ...shares.flatMap((side) => explained(side, margins.length)),
    ...estimates.map((estimate) => `${capital(formatEstimate(estimate))}.`),
    ...(margins.length > 0
      ? [
          `Margin of a bit: median ${volts(median(margins))}, 1 % of bits under ${volts(quantile(margins, 0.01))}, least ${volts(leastOf(margins))} (draw ${String(worst?.index)}).`,
        ]
      : []),
    'A bit passes when over the whole aperture its ONE is above and its ZERO below the drawn threshold and half the hysteresis.',
    BEFORE_WORDS[plan.options.before],
    ...(stacks.length > 0 ? stackWords(stacks, plan) : []),
  ];
}

/** The ranked table of causes: what of the variance of a side's margin each input makes, and the rest. */
export const shareRows = ({ side, shares, rest }: SideShares): StudyResult['ranking'] =>
  shares.length === 0
    ? []
    : [
        ...shares.map(({ name, effect, share }) => ({
          name,
          path: side,
          value: share,
          unit: '',
          note: `share of the variance of the ${WORD[side]} margin; one standard deviation moves it by ${formatQuantity(effect, 'V', 2)}`,
        })),
        {
          name: 'other cores, curvature and interplay',
          path: side,
          value: rest,
          unit: '',
          note: `rest of the variance of the ${WORD[side]} margin`,
        },
      ];

/** Why a draw is worth opening. */
export const marginText = ({ values }: PointResult): string =>
  `margin ${formatQuantity(Number(values.margin), 'V')}`;

function stackWords(stacks: readonly PointResult[], plan: StudyPlan<ToleranceOptions>): string[] {
  const { one, zero } = plan.options.rules as StackRules;
  const doubtful = stacks.filter(({ values }) => values.stack === 'doubtful').length;
  const off = (error: number): string => formatQuantity(error, 'V', 2);
  return [
    'A stack passes when all its bits do; drives, edges, terminations, threshold, strobe, temperature and supply of a draw are the same for all of them.',
    `Its weakest bits are found by an estimate (off by ${off(one.error)} rms for a ONE and ${off(zero.error)} for a ZERO on reads held back) and read in full, until the next is clear of the limit by three of these errors and twice the greatest miss in that draw.`,
    doubtful === 0
      ? `No draw stays doubtful after ${MOST_READS} such reads of either bit.`
      : `${doubtful} of ${stacks.length} draws stay doubtful after ${MOST_READS} such reads of either bit.`,
  ];
}

/** A list that explains less than this part of a variance is said to be no explanation. */
const TELLING = 0.5;

/** What part of the variance of a side's margin the inputs listed explain, and which of them lead. */
function explained({ side, shares, rest }: SideShares, draws: number): string[] {
  const variance = `the variance of the ${WORD[side]} margin`;
  if (Number.isNaN(rest))
    return [`${draws} draws are too few to tell how much of ${variance} the inputs listed explain.`];
  const [first, second] = shares;
  if (!first) return [];
  const percent = (share: number): string => `${Math.round(share * 100)} %`;
  const part = Math.max(0, 1 - rest);
  const ofIt = `${percent(part)} of ${variance}`;
  const leads = `${first.name} (${percent(first.share)})${second ? `, then ${second.name} (${percent(second.share)})` : ''}`;
  return part < TELLING
    ? [
        `The inputs listed explain only ${ofIt}; the rest lies in other cores, curvature and interplay. Of the inputs ${leads} lead.`,
      ]
    : [`The inputs listed explain ${ofIt}: mostly ${leads}.`];
}
