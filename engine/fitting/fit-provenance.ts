import { valueAt as jsonAt } from '../base/json-patch.ts';
import type { FitOutcome } from '../numerics/levenberg-marquardt.ts';
import type { FitRequest, FittedUnknown } from './fit-result.ts';

/** What the new design's note remembers; the old note is kept in front as far as there is room. */
export function provenance(
  request: FitRequest,
  fitted: readonly FittedUnknown[],
  good: boolean,
  outcome: FitOutcome,
): string {
  const name = jsonAt(request.design, '/name');
  const note = jsonAt(request.design, '/note');
  const list = fitted.map((u) => u.name).join(', ');
  const from = request.captures
    .map((c) => `"${c.label.slice(0, 60)}" (${c.trace.time.length} samples)`)
    .join(', ');
  const text = `Fitted: ${list}; from ${from}; starting from "${typeof name === 'string' ? name : 'untitled'}"; ${outcome}, ${
    good ? 'noise alone explains what is left' : 'more than noise is left'
  }.`;
  const old = typeof note === 'string' && note !== '' ? `${note} ` : '';
  return `${old.slice(0, 1990 - text.length)}${text}`;
}
