import type { Design } from '../../design/design.ts';
import type { Fault } from './fault.ts';
import type { ExplainedTrace, Laid, LaidFaults } from './fit-fault.ts';
import { misfitByPart, PARTS } from './seen.ts';
import type { Part, Seen } from './seen.ts';

/** How well one explanation fits, best first in the list. */
export interface Explanation {
  /** 'healthy', or the fault's code; of two together both, with a plus. */
  readonly code: string;
  readonly title: string;
  /** Fitted degree of the fault (a share, or s); undefined where there is only one. */
  readonly severity: number | undefined;
  /** True when that is as bad as is tried: it may be worse. */
  readonly atLimit: boolean;
  /** One sentence: how bad, how much it explains, what is left. */
  readonly evidence: string;
  /** Mean square of what is left over what noise and model tolerance allow; about 1 or less: nothing is left. */
  readonly misfit: number;
  /** The same of each part of the cycle, the greatest over the captures. */
  readonly parts: Readonly<Partial<Record<Part, number>>>;
  /** Share of what differs from the healthy design that this removes, 0..1 (0 for 'healthy'; negative: it fits worse). */
  readonly explains: number;
  /** Chi-square plus the logarithm of the number of samples for each fitted severity; differences rank. */
  readonly score: number;
  /** Laid over each capture; only for the first three and for 'healthy'. */
  readonly traces: readonly ExplainedTrace[] | undefined;
}

/** Explanations of laid faults, best first, the best form of each code only. `healthy` defaults to the first of them. */
export function explanationsOf(
  laid: readonly LaidFaults[],
  seen: readonly Seen[],
  samples: number,
  healthy: Laid | undefined = laid[0]?.laid,
): Explanation[] {
  const ranked = laid
    .map((l) => ({ ...l, score: l.laid.chiSquare + fitted(l) * Math.log(samples) }))
    .sort((a, b) => a.score - b.score);
  const known = new Set<string>();
  return ranked
    .filter(({ faults }) => {
      const code = codeOf(faults);
      return known.has(code) ? false : known.add(code);
    })
    .map((l, place): Explanation => {
      const [excess, left] = [healthy?.chiSquare ?? 0, l.laid.chiSquare].map((chi) =>
        Math.max(0, chi - samples),
      );
      const explains = l.faults[0].code === 'healthy' || excess === 0 ? 0 : 1 - left / excess;
      const misfit = l.laid.chiSquare / samples;
      const code = codeOf(l.faults);
      return {
        code,
        title: l.faults
          .map((f) => f.title)
          .join('; and ')
          .replaceAll('; and T', '; and t'),
        severity: l.faults.length === 1 ? l.laid.severity : undefined,
        atLimit: l.faults.some((f, i) => atLimit(f, l.severities[i])),
        evidence: evidenceOf(l, explains, misfit, seen[0].healthy),
        misfit,
        parts: partsOf(l.laid, seen),
        explains,
        score: l.score,
        traces: place < 3 || code === 'healthy' ? l.laid.traces : undefined,
      };
    });
}

const codeOf = (faults: readonly Fault[]): string => faults.map((f) => f.code).join(' + ');
const fitted = ({ faults }: LaidFaults): number => faults.filter((f) => f.severity !== undefined).length;

function partsOf({ traces }: Laid, seen: readonly Seen[]): Partial<Record<Part, number>> {
  const all = traces.map((t, k) => misfitByPart(seen[k], t.predicted, t.measured, t.time));
  return Object.fromEntries(
    PARTS.flatMap((part) => {
      const values = all.map((parts) => parts[part]).filter((v) => v !== undefined);
      return values.length === 0 ? [] : [[part, Math.max(...values)]];
    }),
  );
}

/** Is the fitted severity the worst that is tried? */
function atLimit({ severity: range }: Fault, severity: number): boolean {
  if (range === undefined) return false;
  const near = (end: number): boolean => Math.abs(severity - end) <= 1e-3 * Math.abs(end);
  return (range.worst !== 'low' && near(range.high)) || (range.worst !== 'high' && near(range.low));
}

function evidenceOf(l: LaidFaults, explains: number, misfit: number, healthy: Design): string {
  const left = `what is left is ${Number(misfit.toPrecision(2))} times what noise and model tolerance allow`;
  if (l.faults[0].code === 'healthy') return `As designed, ${left}.`;
  const words = l.faults.map((f, i) => faultWords(f, l.severities[i], healthy)).join('; and ');
  if (!Number.isFinite(misfit)) return `${words}: the model has no finite answer with it.`;
  const share =
    explains > 0
      ? `explains ${Math.floor(explains * 1000) / 10} % of what differs`
      : 'fits no better than the design as it is';
  return `${words}: ${share}; ${left}.`;
}

function faultWords(fault: Fault, severity: number, healthy: Design): string {
  if (fault.severity === undefined) return fault.title;
  const limit = atLimit(fault, severity) ? ', the worst that is tried: it may be worse' : '';
  return `${fault.title} (${fault.severity.describe(severity, healthy)}${limit})`;
}
