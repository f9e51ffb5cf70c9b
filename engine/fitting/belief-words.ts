import { formatQuantity } from '../base/format-quantity.ts';
import type { Design } from '../design/design.ts';
import type { FittedUnknown } from './fit-result.ts';
import { statedRange } from './knowledge/beliefs.ts';
import { UNKNOWNS, type UnknownName } from './unknown-table.ts';
import { rangeOf } from './unknowns.ts';

const said = (name: UnknownName, value: number): string => formatQuantity(value, UNKNOWNS[name].unit, 3);

/** Which of the values that were found do not agree with the range that the design had them lie in. */
export const againstBelief = (base: Design, fitted: readonly FittedUnknown[]): string[] =>
  fitted.flatMap(({ name, value, interval }) => {
    const range = statedRange(base, name);
    if (range === undefined || (range.low <= value && value <= range.high)) return [];
    const apart = interval.low > range.high || interval.high < range.low;
    const found = `${name} is found at ${said(name, value)}, outside the range that the design has for it (${said(name, range.low)} to ${said(name, range.high)})`;
    return [
      apart
        ? `${found}: the captures contradict the design, so it is another part than stated, or something else of the design is wrong.`
        : `${found}, though its interval reaches into it: measure under another current before you believe it.`,
    ];
  });

/** What was not asked for and yet moved, as the captures settle it. Values in SI, those asked for first. */
export function alsoMoved(
  base: Design,
  asked: readonly UnknownName[],
  { names, values }: { readonly names: readonly UnknownName[]; readonly values: readonly number[] },
): string[] {
  const moved = names.flatMap((name, i) => {
    if (asked.includes(name)) return [];
    const from = rangeOf(base, name)?.start ?? 0;
    return [`${UNKNOWNS[name].meaning} ${said(name, values[i]!)} (was ${said(name, from)})`];
  });
  return moved.length === 0
    ? []
    : [`Not asked for, but settled by the captures and changed in the new design: ${moved.join('; ')}.`];
}
