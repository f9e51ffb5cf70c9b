import { applyPatches, valueAt, type Json, type Patch } from '../base/json-patch.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import { readEnd } from '../drive/programme.ts';
import { polarityOf } from '../mat/winding.ts';
import { CONTRIBUTIONS, type ByContribution, type Contribution } from '../network/causes.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { applyOverrides } from '../strobe/case-overrides.ts';
import { derived } from './derive.ts';

/** What is changed from one stage to the next, in this order. */
export type ChangeGroup = 'cores' | 'mats' | 'leads' | 'amplifier' | 'rest';

/** What one change of the build does to one cause of the sense voltage, V. */
export interface CauseChange {
  readonly group: ChangeGroup;
  readonly cause: Contribution;
  /** At the strobe, positive the way of a ONE. Over all causes and groups these sum to the whole change there. */
  readonly atStrobe: number;
  /** Of its greatest magnitude during the read. */
  readonly greatest: number;
}

export interface StageChange {
  readonly before: Design;
  readonly after: Design;
  /** s: the strobe; `atStrobe` looks at the wire a detector's delay before it. */
  readonly strobe: number;
  readonly parts: readonly CauseChange[];
  /** V at the strobe before and after, and the greatest magnitude in the read. */
  readonly total: Readonly<
    Record<'before' | 'after', { readonly atStrobe: number; readonly greatest: number }>
  >;
}

const FIELDS: Readonly<Record<Exclude<ChangeGroup, 'rest'>, readonly string[]>> = {
  cores: ['/mat/populated'],
  mats: ['/mat/mats', '/mat/otherOnes'],
  leads: ['/mat/leads', '/wire/cable'],
  amplifier: ['/amplifier'],
};

/**
 * The change of the read of a ONE from one design to another, taken apart by what is changed and by cause: the changes
 * are made one after the other, each run by itself, so that the parts sum to the whole.
 * @param strobe s, where `atStrobe` looks
 * @param run the solver, or one that can be cancelled
 */
export function changeBetween(
  before: Design,
  after: Design,
  strobe: number,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): StageChange {
  const goal = designToJson(after) as Json;
  const steps: { readonly group: ChangeGroup; readonly design: Design }[] = [];
  let now = before;
  for (const group of ['cores', 'mats', 'leads', 'amplifier'] as const) {
    const patches = FIELDS[group].map((path): Patch => {
      const value = valueAt(goal, path) as Json | undefined;
      return value === undefined ? { path } : { path, value };
    });
    const file = designToJson(now) as Json;
    if (JSON.stringify(applyPatches(file, patches)) === JSON.stringify(file)) continue;
    now = derived(now, patches);
    steps.push({ group, design: now });
  }
  if (physics(now) !== physics(after)) steps.push({ group: 'rest', design: after });
  const parts: CauseChange[] = [];
  const first = heard(before, strobe, run);
  let last = first;
  for (const { group, design } of steps) {
    const next = heard(design, strobe, run);
    for (const cause of CONTRIBUTIONS)
      parts.push({
        group,
        cause,
        atStrobe: next.causes[cause].atStrobe - last.causes[cause].atStrobe,
        greatest: next.causes[cause].greatest - last.causes[cause].greatest,
      });
    last = next;
  }
  return { before, after, strobe, parts, total: { before: first.whole, after: last.whole } };
}

/** A design without what it is called and what is asked of it. */
const physics = (design: Design): string =>
  JSON.stringify(
    applyPatches(designToJson(design) as Json, [
      { path: '/name' },
      { path: '/note' },
      { path: '/requirement' },
    ]),
  );

interface Heard {
  readonly atStrobe: number;
  readonly greatest: number;
}

function heard(
  design: Design,
  strobe: number,
  run: (design: Design, options?: SimulateOptions) => Simulation,
): { readonly causes: ByContribution<Heard>; readonly whole: Heard } {
  const { row, column } = design.selected;
  const one = applyOverrides(design, { selected: { row, column, bit: 1 } });
  const { time, senseVoltage, contributions } = run(one, { estimateError: false, until: readEnd(design) });
  const sign = polarityOf(design.mat, design.winding)[row * design.mat.columns + column]!;
  const at = Math.max(
    0,
    time.findLastIndex((t) => t <= strobe - design.detector.delay),
  );
  const of = (trace: Float64Array): Heard => ({
    atStrobe: sign * trace[at]!,
    greatest: trace.reduce((most, value) => Math.max(most, Math.abs(value)), 0),
  });
  const entries = CONTRIBUTIONS.map((cause) => [cause, of(contributions![cause])] as const);
  return { causes: Object.fromEntries(entries) as ByContribution<Heard>, whole: of(senseVoltage) };
}
