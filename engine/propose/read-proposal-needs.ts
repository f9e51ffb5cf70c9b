import type { Json } from '../base/json-patch.ts';
import { DesignError, refused } from '../design/design-error.ts';
import { build } from './build.ts';
import { combinations } from './combinations.ts';
import { readNeeds } from './needs.ts';
import type { Needs } from './needs.ts';
import { baseOf } from './start.ts';

/**
 * Needs of which at least one combination makes a design. Throws DesignError: what is wrong with the needs, or why none
 * of the combinations makes one, at the field of the needs that it comes from.
 */
export function readProposalNeeds(raw: unknown): Needs {
  const needs = readNeeds(raw);
  let first: DesignError | undefined;
  for (const combination of combinations(needs)) {
    try {
      build(needs, combination, baseOf(needs));
      return needs;
    } catch (error) {
      if (!(error instanceof DesignError)) throw error;
      first ??= inNeeds(error, needs, combination.core);
    }
  }
  throw first ?? noCombination(needs);
}

/** Parts of a design that a needs file states elsewhere, or does not state at all. */
const STATED: Readonly<Record<string, string>> = {
  requirement: 'want',
  amplifier: 'amplifier',
  detector: 'detector',
  strobe: 'strobe',
  supply: 'supply',
  tolerances: 'tolerances',
  wire: 'wire',
  temperature: 'temperature',
  mat: 'mat',
  cycle: 'cycle',
};

/** A refusal of the design that needs make, as one of the needs. */
function inNeeds({ code, field, message, limit }: DesignError, needs: Needs, core: number): DesignError {
  if (states(needs.keep as Json, field))
    return refused([{ code, field: `/keep${field}`, message: `keep: ${message}`, limit }]);
  const [part = '', ...rest] = field.split('/').slice(1);
  const stated = part === 'core' ? ['cores', String(core), ...rest] : [STATED[part] ?? '', ...rest];
  const known = states(needs.raw, `/${stated.join('/')}`) || part === 'core';
  return refused([
    {
      code: 'rule',
      field: known ? `/${stated.join('/')}` : '',
      message: `These needs must make a design, but none of them do: ${message}`,
      limit,
    },
  ]);
}

/** Does an object hold this pointer, or anything on the way to it but the object itself? */
function states(value: Json, pointer: string): boolean {
  const parts = pointer.split('/').slice(1);
  let at: unknown = value;
  for (const [i, part] of parts.entries()) {
    if (typeof at !== 'object' || at === null) return i > 0;
    if (!Object.hasOwn(at, part)) return false;
    at = (at as Record<string, unknown>)[part];
  }
  return parts.length > 0;
}

function noCombination(needs: Needs): DesignError {
  const { drivers, bits } = needs;
  const driversDecide = combinations({ ...needs, drivers: { ...drivers, most: undefined } }).length > 0;
  return refused([
    driversDecide
      ? {
          code: 'rule',
          field: '/drivers/most',
          message: `drivers.most must be enough for the lines of a mat and ${bits} inhibit drivers, but is ${drivers.most}; allow more, or ask for fewer words or bits.`,
        }
      : {
          code: 'rule',
          field: '/mat',
          message:
            'These needs must leave a winding that can be threaded, but leave none; give mat even sides, or leave out mat and keep.winding.',
        },
  ]);
}
