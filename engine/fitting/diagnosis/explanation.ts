import type { Design } from '../../design/design.ts';
import { evidenceSentence } from './diagnose-words.ts';
import type { Explanation } from './diagnosis.ts';
import { atLimit, type Fault } from './fault.ts';
import type { LaidFaults } from './fit-fault.ts';
import type { Laid } from './lay.ts';
import { misfitByPart } from './parts.ts';
import type { Seen } from './seen.ts';
import { severityInterval } from './severity-interval.ts';

/** Explanations whose traces are kept. */
const WITH_TRACES = 3;

/**
 * Explanations of laid faults, best first, the best form of each code only.
 * @param healthy as the design lies without any fault
 */
export function explanationsOf(
  laid: readonly LaidFaults[],
  seen: readonly Seen[],
  samples: number,
  healthy: Laid,
): Explanation[] {
  const known = new Set<string>();
  return laid
    .map((l) => ({ ...l, score: l.laid.chiSquare + fittedOf(l) * Math.log(samples) }))
    .sort((a, b) => a.score - b.score)
    .filter(({ faults }) => !known.has(codeOf(faults)) && known.add(codeOf(faults)))
    .map((l, rank) => explanationOf(l, rank, seen, samples, healthy));
}

function explanationOf(
  l: LaidFaults & { readonly score: number },
  rank: number,
  seen: readonly Seen[],
  samples: number,
  healthy: Laid,
): Explanation {
  const { faults, severities, laid, score } = l;
  const code = codeOf(faults);
  const [excess, left] = [healthy, laid].map(({ stiff }) => Math.max(0, stiff - samples));
  const misfit = laid.chiSquare / samples;
  const severity = faults.length === 1 ? laid.severity : undefined;
  const found = {
    severity,
    interval:
      severity === undefined || l.known === undefined ? undefined : severityInterval(l.known, laid, misfit),
    atLimit: faults.some((f, i) => atLimit(f, severities[i])),
    misfit,
    strain: laid.strain,
    explains: code === 'healthy' || excess === 0 ? 0 : 1 - left / excess,
  };
  return {
    code,
    title: faults.map(({ title }) => title).join('; and '),
    ...found,
    evidence: evidenceSentence(faults, severities, found, healthyOf(seen)),
    parts: misfitByPart(laid, seen),
    worst: l.worst ?? Infinity,
    score,
    traces:
      rank < WITH_TRACES || code === 'healthy'
        ? laid.lies.map(({ time, measured, predicted }, k) => ({
            label: seen[k].label,
            time,
            measured,
            predicted,
          }))
        : undefined,
  };
}

const healthyOf = (seen: readonly Seen[]): Design => seen[0].healthy;
const codeOf = (faults: readonly Fault[]): string => faults.map((f) => f.code).join(' + ');
const fittedOf = ({ faults }: LaidFaults): number =>
  faults.filter(({ severity }) => severity !== undefined).length;
