import { MEASURE } from '../../core/unknowns/core-uncertainty.ts';
import type { CoreRanges } from '../../design/core-ranges.ts';
import type { CoreChoice, CoreProperty } from '../../design/core.ts';
import { drivesApart, trainDrives } from './core-test.ts';
import type { TraceFit } from './fit-traces.ts';
import type { CoreCapture } from './trace-model.ts';

/** A parameter is shown where its interval is narrower than this part of what was known. */
const SHOWN = 0.7;
/** A capture that is missed by more of the greatest sense voltage is told. */
const POOR = 0.1;

/**
 * Can such captures show a parameter? A fit tells a threshold from the shape of one bell with confidence, and is wrong: a
 * measured core fitted at 0.58 A and asked for its peak at 0.72 A was given 140 to 190 mV and has 118. What changes with
 * the drive is shown by two drives, what half-selects leave by trains, how sharp a knee is by trains at two drives.
 */
function canShow(name: CoreProperty, captures: readonly CoreCapture[]): boolean {
  switch (name) {
    case 'dynamicThreshold':
    case 'switchingResistance':
      return drivesApart(captures);
    case 'coerciveDrive':
      return trainDrives(captures) > 0;
    case 'staticKneeWidth':
    case 'dynamicKneeWidth':
      return trainDrives(captures) > 1;
    default:
      return true;
  }
}

/** An interval of the fit replaces what was known where it is narrower; else the captures do not show that parameter. */
export function rangesAfter(
  start: CoreChoice,
  unknowns: readonly CoreProperty[],
  fit: TraceFit,
  captures: readonly CoreCapture[],
): { readonly range: CoreRanges; readonly shown: readonly CoreProperty[] } {
  const shown: CoreProperty[] = [];
  const range: { [Name in CoreProperty]: CoreRanges[Name] } = { ...start.range };
  for (const name of unknowns) {
    const value = fit.parameters[name];
    const found = fit.range[name]!;
    const known = start.range[name];
    const within = { low: Math.min(found.low, value), high: Math.max(found.high, value), from: found.from };
    const narrower = within.high - within.low < SHOWN * (known.high - known.low);
    if (canShow(name, captures) && (known.from === 'given' || narrower)) {
      range[name] = within;
      shown.push(name);
    } else range[name] = { ...known, low: Math.min(known.low, value), high: Math.max(known.high, value) };
  }
  return { range, shown };
}

/**
 * What to know before such a core is used, one sentence each.
 * @param greatest V, of all captures
 */
export function severalNotes(
  unknowns: readonly CoreProperty[],
  shown: readonly CoreProperty[],
  { captures }: TraceFit,
  greatest: number,
  settled: boolean,
): string[] {
  const missing = new Map<string, CoreProperty[]>();
  for (const name of unknowns)
    if (!shown.includes(name)) missing.set(MEASURE[name], [...(missing.get(MEASURE[name]) ?? []), name]);
  const poor = captures.filter(({ rms }) => rms > POOR * greatest);
  return [
    ...poor.map(
      ({ name, share }) =>
        `${name} is missed by ${Math.round(100 * share)} % of its own peak: its current, the core or the model is not what it is taken for.`,
    ),
    ...[...missing].map(([what, names]) => `The captures do not show ${names.join(', ')}; ${what} would.`),
    ...(settled
      ? []
      : ['The search had not settled when it ended: start nearer to the core, or look for fewer unknowns.']),
  ];
}
