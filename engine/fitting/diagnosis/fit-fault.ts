import type { Trace } from '../align/trace-tools.ts';
import type { BenchRuns } from '../bench-runs.ts';
import { observedTrace } from '../compare.ts';
import type { Fault, Severity } from './fault.ts';
import { layOn, type Laid } from './lay.ts';
import type { Seen } from './seen.ts';

/** s: a strobe seen on a screen is read no better than this. */
const STROBE_READING = 2e-9;
/** Halvings of the distance to the neighbours. */
export const HALVINGS = 6;

/** One or several faults together, and how they lie. */
export interface LaidFaults {
  /** The least that the fault lies off at the worst that is tried, in chi-square: of a single one only. */
  readonly worst?: number;
  readonly faults: readonly Fault[];
  readonly severities: readonly number[];
  readonly laid: Laid;
  /** Of a single fault that was followed: everything that was laid on the way. */
  readonly known?: readonly Laid[];
}

/** What an explanation predicts of each capture, and of the strobe's instant, s. */
interface Predicted {
  readonly traces: readonly Trace[];
  readonly strobe: number;
}

/** How faults together lie at given severities. */
export type LayAt = (severities: readonly number[]) => Laid;

/** Lays faults together on all captures; runs are remembered. */
export function layer(
  faults: readonly Fault[],
  seen: readonly Seen[],
  strobeAt: number | undefined,
  runs: BenchRuns,
): LayAt {
  const kept = new Map<string, Predicted | undefined>();
  const plainAt = (severities: readonly number[]): Predicted | undefined => {
    // A fault that moves nothing in the build needs one run only.
    const key = faults.map((f, i) => (f.movesStrobe || f.seen ? 0 : severities[i])).join(',');
    if (!kept.has(key)) kept.set(key, predictAll(faults, seen, severities, runs));
    return kept.get(key);
  };
  return (severities) => {
    const severity = severities[0];
    const plain = plainAt(severities);
    if (plain === undefined)
      return { chiSquare: Infinity, stiff: Infinity, strain: Infinity, severity, lies: [] };
    const late = faults.reduce((sum, f, i) => sum + (f.movesStrobe === true ? severities[i] : 0), 0);
    const traces = plain.traces.map((trace, k) =>
      seen[k].isReference ? trace : faults.reduce((t, f, i) => f.seen?.(t, severities[i]) ?? t, trace),
    );
    const laid = layOn(traces, seen);
    const strobe =
      strobeAt === undefined
        ? 0
        : ((strobeAt - laid.lies[0].delay - plain.strobe - late) / STROBE_READING) ** 2;
    return { ...laid, chiSquare: laid.chiSquare + strobe, stiff: laid.stiff + strobe, severity };
  };
}

/** Undefined where the model has no finite answer. */
function predictAll(
  faults: readonly Fault[],
  seen: readonly Seen[],
  severities: readonly number[],
  runs: BenchRuns,
): Predicted | undefined {
  let strobe = NaN;
  const traces: Trace[] = [];
  for (const s of seen) {
    const active = s.isReference ? [] : faults;
    const design = active.reduce((d, f, i) => f.change(d, severities[i]), s.healthy);
    const terms = active.find((f) => f.terms !== undefined)?.terms?.(design) ?? [{ design, weight: 1 }];
    const polarity = active.reduce((sign, f) => sign * (f.polarity ?? 1), 1);
    let sum: Trace | undefined;
    for (const term of terms) {
      const run = runs.run(term.design, { until: s.until });
      if (run === undefined) return undefined;
      const { time, value } = observedTrace(run, s.observed);
      if (sum === undefined) {
        sum = { time, value: value.map((v) => polarity * term.weight * v) };
        if (Number.isNaN(strobe)) strobe = run.strobe.time;
      } else {
        for (let i = 0; i < Math.min(sum.value.length, value.length); i++)
          sum.value[i] += polarity * term.weight * value[i];
      }
    }
    if (sum === undefined) return undefined;
    traces.push(sum);
  }
  return { traces, strobe };
}

/** A fault at each severity that is tried first. */
export function screen(severity: Severity | undefined, lay: (severity: number) => Laid): Laid[] {
  if (severity === undefined) return [{ ...lay(0), severity: undefined }];
  return [...new Set([severity.low, ...severity.tried, severity.high])].map(lay);
}

/**
 * From a few severities again and again the middles to the neighbours of the best.
 * @param known what is laid on the way is added to it
 */
export function zoomIn(known: Laid[], lay: (severity: number) => Laid, rounds = HALVINGS): Laid {
  const bySeverity = (a: Laid, b: Laid): number => (a.severity as number) - (b.severity as number);
  for (let round = 0; ; round++) {
    known.sort(bySeverity);
    const at = known.reduce((best, l, i) => (l.chiSquare < known[best].chiSquare ? i : best), 0);
    if (round === rounds || known.length < 2) return known[at];
    const middles = [known[at - 1], known[at + 1]].filter((l) => l !== undefined);
    known.push(...middles.map((l) => lay(between(l.severity as number, known[at].severity as number))));
  }
}

/** The middle by ratio where both have one sign: severities go over decades. */
const between = (a: number, b: number): number => (a > 0 && b > 0 ? Math.sqrt(a * b) : (a + b) / 2);
