import { formatQuantity } from '../../base/format-quantity.ts';
import type { Trace } from '../align/trace-tools.ts';
import { concludeJudgement, type Finding, type Judgement } from './judgement.ts';
import { judgeSignal } from './judge-signal.ts';
import { percent, readSignal, volts, type Signal } from './signal.ts';
import { standing } from './standing.ts';

/** Where the drive's rise is said to be on a capture's own time, s. */
interface StatedEdge {
  readonly start: number;
  readonly rise: number;
}

/** What was found of a capture of one core: no design predicts it. */
export type JigJudgement = Pick<Judgement, 'verdict' | 'statement' | 'findings'>;

/**
 * Judges a capture of one core on a jig by itself: is it a voltage, does it rest, is it clipped, and does it leave its rest
 * where the drive's rise is said to start?
 */
export function judgeJig(
  trace: Trace,
  { bit, edge }: { readonly bit: 0 | 1; readonly edge?: StatedEdge },
): JigJudgement {
  const found = judgeSignal(trace);
  // A ZERO answers with its edges alone: two levels are what it has.
  const alone = found.findings.filter(({ code }) => bit === 1 || code !== 'two-level');
  if (alone.some(({ weight }) => weight === 'blocks')) return found;
  const signal = readSignal(trace);
  const more = [clippedAlone(signal), edge && elsewhere(signal, edge)];
  const findings = [...alone, ...more.filter((f) => f !== undefined)];
  return { ...concludeJudgement(findings), findings };
}

/** What is found of a capture, one sentence or a few each, for the list of notes. */
export const jigNotes = (label: string, { findings }: JigJudgement): string[] =>
  findings.map(({ belief, evidence, remedy }) => `${label}: ${belief} ${evidence} ${remedy}`);

/** Steps of the converter over which a rounded top falls within its own length on either side. */
const ROUNDED = 15;

/**
 * Samples at the end of a range that are no rounded top: a top that stays within one step for some samples falls by nine
 * steps within as many more on either side; what is cut off falls by far more.
 */
function clippedAlone(signal: Signal): Finding | undefined {
  const { trace, step, sigma } = signal;
  const flags = standing(signal);
  const { value } = trace;
  for (let from = 0; from < flags.length; from++) {
    if (flags[from] === 0) continue;
    let end = from;
    while (end < flags.length && flags[end] === 1) end++;
    const [before, after] = [value[from - (end - from)], value[end - 1 + (end - from)]];
    const fall = Math.min(...[before, after].map((v) => (v === undefined ? 0 : Math.abs(value[from] - v))));
    if (fall > ROUNDED * step + 6 * sigma)
      return {
        code: 'clipped',
        weight: 'blocks',
        belief: `It is clipped: ${end - from} samples on end stand exactly at ${volts(value[from])}.`,
        evidence: `Within as many samples on either side it falls by ${volts(fall)}: that is no rounded top.`,
        remedy: 'Record it again with a wider range.',
        size: (end - from) / flags.length,
      };
    from = end;
  }
  return undefined;
}

/** Share of the range that counts as having left its rest, and samples on end that must. */
const LEFT = 0.03;
const ON_END = 3;
/** Samples and part of the rise by which the edge may lie off before it is doubted. */
const [SAMPLES_OFF, EARLY, LATE] = [3, 0.15, 0.5];

/**
 * A core answers from the start of the rise on: the elastic part of its flux follows the current at once. A trace that leaves
 * its rest well before, or only in the second half of the rise, has its edge elsewhere.
 */
function elsewhere(
  { trace: { time, value }, rest, sigma, least, greatest }: Signal,
  { start, rise }: StatedEdge,
): Finding | undefined {
  const clear = Math.max(6 * sigma, LEFT * (greatest - least));
  const interval = (time[time.length - 1] - time[0]) / (time.length - 1);
  const left = value.findIndex((_, i) =>
    value.subarray(i, i + ON_END).every((v) => Math.abs(v - rest) > clear),
  );
  if (left <= 0 || left > value.length - ON_END) return undefined;
  const off = time[left] - start;
  if (
    off > -Math.max(SAMPLES_OFF * interval, EARLY * rise) &&
    off < Math.max(SAMPLES_OFF * interval, LATE * rise)
  )
    return undefined;
  const at = formatQuantity(time[left], 's', 3);
  return {
    code: 'edge',
    weight: 'shape',
    belief: `The drive's rise seems to start elsewhere than stated: near ${at}, and ${formatQuantity(start, 's', 3)} is given.`,
    evidence: `The voltage leaves its rest by ${percent(LEFT)} of its range at ${at}, ${off < 0 ? `${formatQuantity(-off, 's', 2)} before the rise could drive it` : `when ${percent(Math.min(1, off / rise))} of the rise are over, and a core answers from its start on`}.`,
    remedy:
      'Check the start of the rise, or name the trace of the current: times read off this capture count from there.',
    size: off,
  };
}
