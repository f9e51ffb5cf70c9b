import type { Design } from '../design/design.ts';
import type { EndedFit } from './ended-fit.ts';
import { valuesOf } from './fit-problem.ts';
import { rangeCode } from './fit-shapes.ts';
import type { UnknownName } from './unknown-table.ts';
import { rangeOf, withValues } from './unknowns.ts';

/** Part of what was open before that may still be open of a value that the captures have settled. */
const SETTLED = 0.5;

/**
 * What the new design holds: the asked unknowns, and of what was hidden of the core only what the captures have settled,
 * so that no value changes of which they say little.
 */
export function finalValues({ model, fit, hidden, plain, request }: EndedFit): {
  names: UnknownName[];
  values: number[];
} {
  if (plain !== undefined) return { names: [...request.unknowns], values: [...plain] };
  const { parameters, departures, base } = model;
  const asked = request.unknowns.length;
  const found = valuesOf(parameters, fit.parameters);
  const names = [...request.unknowns];
  const values = [...found.subarray(0, asked)];
  const settles = (place: number, spread: number): boolean => fit.standardErrors[place] < SETTLED * spread;
  parameters.slice(asked).forEach(({ name, prior }, i) => {
    if (prior === undefined || !settles(asked + i, prior.spread)) return;
    names.push(name);
    values.push(found[asked + i]);
  });
  for (const { name, spread, exact } of hidden) {
    const j = exact ? -1 : departures.indexOf(rangeCode(name));
    const start = rangeOf(base, name);
    if (j < 0 || start === undefined || !settles(parameters.length + j, 1)) continue;
    const moved = Math.exp(Math.max(-1, Math.min(1, fit.parameters[parameters.length + j])) * spread);
    names.push(name);
    values.push(Math.min(start.high, Math.max(start.low, start.start * moved)));
  }
  return valid(base, names, values, asked);
}

/** Hidden values that would make no valid design stay as they were. */
function valid(
  base: Design,
  names: UnknownName[],
  values: number[],
  asked: number,
): { names: UnknownName[]; values: number[] } {
  const p = withValues(base, names, values).core.parameters;
  const sound =
    p.coerciveDrive >= 6 * p.staticKneeWidth &&
    p.dynamicThreshold >= 10 * p.dynamicKneeWidth &&
    p.squareness < 0.999;
  return sound ? { names, values } : { names: names.slice(0, asked), values: values.slice(0, asked) };
}
