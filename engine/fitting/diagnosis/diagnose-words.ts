import type { Design } from '../../design/design.ts';
import type { Explanation } from './diagnosis.ts';
import type { Fault } from './fault.ts';

type Found = Pick<Explanation, 'severity' | 'atLimit' | 'misfit' | 'explains'>;

const rounded = (misfit: number): number => Number(misfit.toPrecision(2));

/** How bad a fault is, how much of the misfit it explains, and what is left. */
export function evidenceSentence(fault: Fault, found: Found, healthy: Design): string {
  const misfit = rounded(found.misfit);
  const left = `what is left is ${misfit} times what noise and model tolerance allow`;
  if (fault.code === 'healthy') return `As designed, ${left}.`;
  if (!Number.isFinite(misfit)) return `${fault.title}: the model has no finite answer with it.`;
  const limit = found.atLimit ? ', the worst that is tried: it may be worse' : '';
  const how =
    found.severity === undefined || fault.severity === undefined
      ? ''
      : ` (${fault.severity.describe(found.severity, healthy)}${limit})`;
  const share =
    found.explains > 0
      ? `removes ${Math.floor(found.explains * 1000) / 10} % of the misfit`
      : 'fits worse than the design as it is';
  return `${fault.title}${how}: ${share}; ${left}.`;
}

export const HEALTHY_SENTENCE =
  'The captures are what the design predicts; no fault explains them decisively better.';

/** @param rival the next best, where it is about as good */
export const faultSentence = (best: Explanation, rival: Explanation | undefined): string =>
  `${best.evidence}${rival === undefined ? '' : ` "${rival.title}" explains the captures about as well.`}`;

export const noneSentence = ({ title, misfit }: Explanation): string =>
  `No single fault of the list explains the captures: the best, "${title}", leaves ${rounded(misfit)} times what noise and model tolerance allow. Fit the design to a healthy build first, or look for two faults at once.`;
