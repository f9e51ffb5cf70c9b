import type { Design } from '../design/design.ts';
import { FitError } from './bench-runs.ts';
import type { FitRequest } from './fit-result.ts';
import { unknownName } from './unknown-ranges.ts';
import { UNKNOWNS } from './unknown-table.ts';
import { rangeOf } from './unknowns.ts';

/** Unknowns of one fit at most. */
export const MOST_UNKNOWNS = 12;
export const MOST_CAPTURES = 8;

/** Throws FitError where a fit cannot be tried. */
export function refuseFit(request: FitRequest, base: Design): void {
  const { unknowns, captures } = request;
  if (unknowns.length > MOST_UNKNOWNS) {
    throw new FitError(
      '/unknowns',
      `A fit may have at most ${MOST_UNKNOWNS} unknowns; received ${unknowns.length}: choose those that the captures can tell.`,
    );
  }
  if (captures.length < 1 || captures.length > MOST_CAPTURES) {
    throw new FitError(
      '/captures',
      `A fit must have 1 to ${MOST_CAPTURES} captures; received ${captures.length}.`,
    );
  }
  unknowns.forEach((name, i) => {
    if (!Object.hasOwn(UNKNOWNS, name)) throw unknownName(`/unknowns/${i}`, name);
    const fields: readonly string[] = UNKNOWNS[name].fields;
    const rival = unknowns.find(
      (other, j) => j < i && UNKNOWNS[other].fields.some((f) => fields.includes(f)),
    );
    if (rival !== undefined) {
      throw new FitError(
        `/unknowns/${i}`,
        `Two unknowns must not move the same field; received ${rival} and ${name}, which both move ${fields.find((f) => UNKNOWNS[rival].fields.includes(f as never))}: leave one out.`,
      );
    }
    if (rangeOf(base, name) === undefined) {
      throw new FitError(
        `/unknowns/${i}`,
        `${name} must start from a finite number; the design has none at ${fields[0]}: write one there first.`,
      );
    }
  });
}
